import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { openThreads } from "../../../src/pipeline/intervals/resampling-threads.ts";
import type { LeanModel } from "../../../src/scoring/intervals/lean-model.ts";
import { resamplingPlan } from "../../../src/scoring/intervals/plan.ts";
import type { ResamplingOutcome } from "../../../src/scoring/intervals/resample.ts";
import type { ResamplingTask } from "../../../src/scoring/intervals/task.ts";
import { freshFolder } from "../../helpers/run-jartally.ts";

const MANY = { resampling: resamplingPlan({ resamples: 1_000_000 }), threads: 2 };
// Plain data as far as a thread is concerned that does not come to look at it.
const TASK = {} as ResamplingTask;
const MODEL = {} as LeanModel;
const HERE = () => {
  throw new Error("here");
};

function workerThat(does: string): string {
  const file = join(freshFolder(), "worker.mjs");
  writeFileSync(file, does);
  return file;
}

it("threads that are lost before they were given anything refuse what comes later, as what they have", async () => {
  const file = workerThat('throw new Error("lost");');
  const threads = openThreads(MANY, 10, file);
  if (threads === undefined) throw new Error("one thread is enough");
  await expect(threads.run(TASK, MODEL, HERE)).rejects.toThrow("lost");
  await expect(threads.run(TASK, MODEL, HERE)).rejects.toThrow("lost");
  await threads.close();
});

it("there are none where one is enough, or where there is nothing to run", () => {
  expect(openThreads({ ...MANY, threads: 1 }, 10, workerThat(""))).toBe(undefined);
  expect(openThreads(MANY, 1, workerThat(""))).toBe(undefined);
  expect(openThreads({ threads: 2 }, 10, workerThat(""))).toBe(undefined);
  expect(openThreads({ ...MANY, resampling: resamplingPlan({ resamples: 10 }) }, 10, workerThat(""))).toBe(
    undefined,
  );
  expect(openThreads(MANY, 10, join(freshFolder(), "none.js"))).toBe(undefined);
});

it("this thread takes what no other was given, and what goes wrong here is met where it is waited for", async () => {
  const threads = openThreads(MANY, 10, workerThat("setTimeout(() => {}, 60_000);"));
  if (threads === undefined) throw new Error("one thread is enough");
  const outcome = (indexVariance: number) => ({ indexVariance }) as ResamplingOutcome;
  // The other thread has four before it and answers none of them.
  for (let sample = 0; sample < 4; sample++) threads.run(TASK, MODEL, HERE);
  expect(threads.help()).toBe(false);
  const own = [threads.run(TASK, MODEL, () => outcome(5)), threads.run(TASK, MODEL, HERE)];
  const failed = expect(own[1]).rejects.toThrow("here");
  expect([threads.help(), threads.help(), threads.help()]).toEqual([true, true, false]);
  expect(await own[0]).toEqual(outcome(5));
  await failed;
  await threads.close();
});

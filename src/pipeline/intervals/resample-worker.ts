import { parentPort } from "node:worker_threads";
import { runTask } from "../../scoring/intervals/task.ts";
import type { ThreadAnswer, ThreadRequest } from "./resampling-threads.ts";

// A thread that resamples what it is sent: plain data in, plain data out.
parentPort?.on("message", ({ id, task, model }: ThreadRequest) => {
  const answer: ThreadAnswer = { id, outcome: runTask(task, model) };
  parentPort?.postMessage(answer);
});

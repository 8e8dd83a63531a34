import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fraction } from "../../src/model/exact.ts";
import type { SampleFacts } from "../../src/model/sample-facts.ts";
import { choiceCandidates } from "../../src/quality/choice-candidates.ts";
import type { ChoiceCandidate, ChoiceRules } from "../../src/quality/choose.ts";
import { CHOICE_ALGORITHM, chooseSamples } from "../../src/quality/choose.ts";
import { randomStream } from "../../src/subsample/stream.ts";

const TENTH = fraction(1, 10);

function rules(over: Partial<ChoiceRules> = {}, seed = "1"): ChoiceRules {
  return {
    share: TENTH,
    round: 1,
    checked: new Set(),
    stream: (group) => randomStream(CHOICE_ALGORITHM, seed, group),
    ...over,
  };
}

function lot(group: string, size: number, trainee = false): ChoiceCandidate[] {
  return Array.from({ length: size }, (_, at) => ({
    sampleId: `${group}-${String(at + 1).padStart(3, "0")}`,
    group,
    trainee,
  }));
}

function ids(candidates: readonly ChoiceCandidate[], over: Partial<ChoiceRules> = {}): string[] {
  return chooseSamples(candidates, rules(over)).flatMap(({ chosen }) =>
    chosen.map(({ sampleId }) => sampleId),
  );
}

describe("chooseSamples", () => {
  it("takes a tenth of each group, rounded up, and at least one", () => {
    const found = chooseSamples([...lot("L1", 47), ...lot("L2", 3), ...lot("L3", 20)], rules());
    expect(found.map(({ group, asked, chosen }) => [group, asked, chosen.length])).toEqual([
      ["L1", 5, 5],
      ["L2", 1, 1],
      ["L3", 2, 2],
    ]);
  });

  it("takes all of a trainee's samples beside the share of the others", () => {
    const [found] = chooseSamples([...lot("L", 20), ...lot("L", 32, true).slice(20)], rules());
    expect(found).toMatchObject({ candidates: 32, trainees: 12, asked: 2, isExhausted: false });
    expect(found?.chosen.filter(({ reason }) => reason === "trainee")).toHaveLength(12);
    expect(found?.chosen.filter(({ reason }) => reason === "share")).toHaveLength(2);
    expect(chooseSamples(lot("T", 12, true), rules())[0]).toMatchObject({ asked: 0, isExhausted: false });
  });

  it("goes on with other samples in the second round, and takes no trainee's sample twice", () => {
    const all = [...lot("L1", 47), ...lot("L2", 9, true)];
    const first = ids(all);
    const second = ids(all, { round: 2 });
    expect(second).toHaveLength(5);
    expect(first.filter((id) => second.includes(id))).toEqual([]);
    expect(second.every((id) => id.startsWith("L1"))).toBe(true);
  });

  it("leaves out a trainee's sample that has been checked", () => {
    const all = lot("T", 3, true);
    expect(ids(all, { checked: new Set(["T-002"]) })).toEqual(["T-001", "T-003"]);
  });

  it("takes the second round as well when it is told what has been checked", () => {
    const all = lot("L1", 47);
    expect(ids(all, { checked: new Set(ids(all)) })).toEqual(ids(all, { round: 2 }));
  });

  it("says when fewer are left than asked for", () => {
    const all = lot("L", 15);
    const [third] = chooseSamples(all, rules({ share: fraction(2, 5), round: 3 }));
    expect(third).toMatchObject({ asked: 6, isExhausted: true });
    expect(third?.chosen).toHaveLength(3);
    const [fourth] = chooseSamples(all, rules({ share: fraction(2, 5), round: 4 }));
    expect(fourth?.chosen).toEqual([]);
  });

  it("chooses the same whatever else is in the log and in whatever order", () => {
    const own = ids(lot("L1", 47));
    const among = ids([...lot("L0", 30), ...lot("L1", 47).reverse(), ...lot("L2", 5)]);
    expect(among.filter((id) => id.startsWith("L1"))).toEqual(own);
  });

  it("chooses others with another seed", () => {
    const chosen = (seed: string) =>
      chooseSamples(lot("L1", 200), rules({}, seed))[0]?.chosen.map(({ sampleId }) => sampleId);
    expect(chosen("1")).toEqual(chosen("1"));
    expect(chosen("1")).not.toEqual(chosen("2"));
  });

  it("puts samples without a group last, in a group of their own", () => {
    expect(
      chooseSamples([...lot("Z", 4), ...lot("", 4), ...lot("A", 4)], rules()).map(({ group }) => group),
    ).toEqual(["A", "Z", ""]);
  });

  it("refuses a sample that stands there twice and a round before the first", () => {
    expect(() => ids([...lot("L", 3), ...lot("L", 1)])).toThrow(/stands among the candidates twice/);
    expect(() => ids(lot("L", 3), { round: 0 })).toThrow(RangeError);
  });

  it("never takes a sample twice over the rounds and takes all in the end", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 60 }), fc.integer({ min: 1, max: 100 }), (size, percent) => {
        const all = lot("L", size);
        const share = fraction(percent, 100);
        const taken: string[] = [];
        for (let round = 1; round <= 100; round++) taken.push(...ids(all, { share, round }));
        expect(taken.sort()).toEqual(all.map(({ sampleId }) => sampleId));
      }),
      { numRuns: 40 },
    );
  });

  it("gives every order of a small group exactly once when the stream goes through all its courses", () => {
    // A group of 4 with rounds of 1: 4 x 3 x 2 courses of the stream, 24 orders.
    const orders = new Set<string>();
    for (let course = 0; course < 24; course++) {
      const all = lot("L", 4);
      const order = [1, 2, 3, 4].flatMap((round) => {
        let rest = course;
        const below = (n: number) => {
          const value = rest % n;
          rest = Math.floor(rest / n);
          return value;
        };
        return ids(all, { share: fraction(1, 4), round, stream: () => ({ below }) });
      });
      orders.add(order.join());
    }
    expect(orders.size).toBe(24);
  });
});

describe("choices that must not change but with a new version of the algorithm", () => {
  it("takes these five of 47 with seed 1", () => {
    expect(CHOICE_ALGORITHM).toBe("recheck-choice/1");
    expect(ids(lot("L1", 47))).toEqual(["L1-024", "L1-028", "L1-042", "L1-043", "L1-044"]);
    expect(ids(lot("L1", 47), { round: 2 })).toEqual(["L1-012", "L1-021", "L1-023", "L1-026", "L1-047"]);
  });
});

describe("choiceCandidates", () => {
  function row(sampleId: string, texts: Record<string, string>): SampleFacts {
    return { sampleId, texts: new Map(Object.entries(texts)), file: "log.csv", line: 2, columns: new Map() };
  }

  const LOG = [
    row("A", { sorter: "ana", lot: "L1", taxonomist: "tom" }),
    row("B", { sorter: "ana", lot: "L1", trainee: "yes" }),
    row("C", { sorter: "ana", lot: "L2", trainee: "no" }),
    row("D", { sorter: "bo", lot: "L2", taxonomist: "tom" }),
    row("E", { trainee: "yes" }),
    row("F", {}),
  ];
  const trainees = (by: "sorter" | "lot" | "taxonomist" | undefined) =>
    choiceCandidates(LOG, by)
      .filter(({ trainee }) => trainee)
      .map(({ sampleId }) => sampleId);

  it("marks the person, not only the row, unless a row says no", () => {
    expect(trainees("sorter")).toEqual(["A", "B", "E"]);
    expect(trainees("lot")).toEqual(["A", "B", "E"]);
    expect(trainees(undefined)).toEqual(["A", "B", "E"]);
  });

  it.each(["yes", "Y", "true", "1"])("takes %j for a mark", (mark) => {
    expect(choiceCandidates([row("A", { trainee: mark })], undefined)[0]?.trainee).toBe(true);
  });

  it.each(["no", "n", "0"])("takes %j for none, also of somebody who is marked elsewhere", (mark) => {
    const log = [row("A", { sorter: "ana", trainee: "yes" }), row("B", { sorter: "ana", trainee: mark })];
    expect(choiceCandidates(log, "sorter").map(({ trainee }) => trainee)).toEqual([true, false]);
  });

  it("does not mark nobody's samples because a nameless row is marked", () => {
    const log = [row("A", { trainee: "yes" }), row("B", {}), row("C", { lot: "L" })];
    expect(choiceCandidates(log, "lot").map(({ trainee }) => trainee)).toEqual([true, false, false]);
  });

  it("marks taxonomists when samples are grouped by them", () => {
    expect(trainees("taxonomist")).toEqual(["B", "E"]);
    const log = [
      row("A", { taxonomist: "tom", trainee: "yes" }),
      row("B", { taxonomist: "tom", sorter: "bo" }),
    ];
    expect(choiceCandidates(log, "taxonomist").map(({ trainee }) => trainee)).toEqual([true, true]);
    expect(choiceCandidates(log, "sorter").map(({ trainee }) => trainee)).toEqual([true, false]);
  });

  it("takes the group from the column, empty where there is none", () => {
    expect(choiceCandidates(LOG, "lot").map(({ group }) => group)).toEqual(["L1", "L1", "L2", "L2", "", ""]);
    expect(choiceCandidates(LOG, undefined).map(({ group }) => group)).toEqual(["", "", "", "", "", ""]);
  });
});

import { describe, expect, it } from "vitest";
import { exactOf, toNumber } from "../../src/model/exact.ts";
import { BARE_SET, readWritten, row, usableSet } from "../helpers/sets.ts";

/** Findings as "file:line:column code message". */
async function faults(files: Parameters<typeof readWritten>[0]): Promise<string[]> {
  const { set, findings } = await readWritten(files);
  expect(set).toBe(undefined);
  return findings.map((one) => `${one.file}:${one.line}:${one.column} ${one.code} ${one.message}`);
}

/** Messages without their places. */
const messages = async (files: Parameters<typeof readWritten>[0]) =>
  (await faults(files)).map((text) => text.replace(/^\S+ /, ""));

describe("set.json", () => {
  it("must be JSON with no key twice", async () => {
    expect(await faults({ set: '{ "id": "bare",\n  "id": "again" }' })).toEqual([
      'bare/set.json:2:3 bad-set the key "id" stands twice in this object',
    ]);
    expect(await faults({ set: '{ "id": }' })).toEqual(["bare/set.json:1:9 bad-set a value belongs here"]);
  });

  it("must have the keys of a set and no others, with their places", async () => {
    const { title: _, ...rest } = BARE_SET;
    const text = JSON.stringify({ ...rest, calibratd_for: "x", level: { rank: "genera" } }, undefined, 2);
    expect(await faults({ set: text })).toEqual([
      "bare/set.json:1:1 bad-set title: is missing (a text)",
      expect.stringMatching(/^bare\/set\.json:\d+:5 bad-set level\.rank: must be "kingdom" or .*"as-named"$/),
      expect.stringMatching(
        /^bare\/set\.json:\d+:3 bad-set "calibratd_for" is no key of a set; did you mean "calibrated_for"\?$/,
      ),
    ]);
  });

  it("tells a wrong type from a key that is missing", async () => {
    const { region: _, verification: __, ...rest } = BARE_SET;
    const text = JSON.stringify({
      ...rest,
      title: 5,
      large_rare: "some",
      count_rule: { target: "200", least: null },
    });
    expect(await messages({ set: text })).toEqual([
      "bad-set title: must be a text",
      'bad-set verification: is missing ("checked" or "transcribed" or "memory" or "invented")',
      "bad-set region: is missing (a text)",
      "bad-set count_rule.target: must be a number",
      'bad-set large_rare: must be "richness" or "none"',
    ]);
  });

  it.each([
    [{ id: "Bare Set" }, "bad-set id: lower case words joined by hyphens"],
    [{ metrics: [] }, "bad-set metrics: must not be empty"],
    [
      { count_rule: { target: 4_194_305, least: null } },
      "bad-set count_rule.target: must be at most 4194304",
    ],
    [
      { metrics: [{ id: "taxa_richness" }, { id: "taxa_richness" }] },
      'bad-set metrics.1.id: "taxa_richness" is there twice',
    ],
    [{ index: { method: "metric" as const } }, "bad-set index.method: the method metric needs a metric"],
    [
      { index: { method: "metric" as const, metric: "nothing" } },
      'bad-set index.metric: the set has no metric "nothing"',
    ],
    [
      { index: { method: "scaled-sum" as const } },
      "bad-set index.method: the method scaled-sum needs scale_to and best_sum",
    ],
    [
      { metrics: [{ id: "taxa_richness", as_published: "gap" as const }] },
      "bad-set metrics.0.tie_rule: as_published and tie_rule go together: a gap kept as published needs a stated rule",
    ],
    [
      { ratings: { on: "rounded" as const, classes: [{ rating: "good", lower: 1 }] } },
      "bad-set ratings.classes.0.lower: lower and lower_included go together",
    ],
    [
      { ratings: { on: "rounded" as const, classes: [{ rating: "good", stratum: "hills" }] } },
      'bad-set ratings.classes.0.stratum: the set has no stratum "hills"',
    ],
    [
      { level: { rank: "genus" as const, exceptions: [{ taxon: "Chironomida", rank: "family" as const }] } },
      'bad-set level.exceptions.0.taxon: "Chironomida" is not in the tree of taxa; did you mean "Chironomidae" or "Chironomoidea" or "Chironomus"?',
    ],
    [
      { count_policy: [{ taxon: "Fishes", policy: "count" as const, reason: "x" }] },
      'bad-set count_policy: "Fishes" is not in the taxon tree',
    ],
    [
      { attributes: { tolerance: { scheme: "rbp1999-northwst" } } },
      'bad-set attributes.tolerance: there is no scheme "rbp1999-northwst"; did you mean "rbp1999-northwest" or "rbp1999-southeast"?',
    ],
    [
      { attributes: { tolerance: { scheme: "habit" } } },
      'bad-set attributes.tolerance: the scheme "habit" is of habit',
    ],
  ])("%j is refused", async (change, message) => {
    const found = await messages({ set: change });
    // Suggestions depend on the tables; the first is what matters.
    expect(found.map((one) => one.replace(/ or "(?!.*").*|( or "[^"]*")+\?$/, "?"))).toEqual([
      message.replace(/( or "[^"]*")+\?$/, "?"),
    ]);
  });
});

describe("thresholds.csv", () => {
  it("is read exactly, sorted from low to high, an empty stratum for all strata", async () => {
    const set = await usableSet({
      set: {
        strata: [
          { id: "a", title: "A" },
          { id: "b", title: "B" },
        ],
      },
      thresholds: [
        row("taxa_richness", "[3.10,5)", 2),
        row("taxa_richness", "[0,3.10)", 1),
        row("taxa_richness", "[5,)", 9, 9, { stratum: "b" }),
      ],
    });
    const of = (stratum: string) => set.segments.get("taxa_richness")?.get(stratum) ?? [];
    expect(of("a").map((one) => toNumber(one.scoreAtLower))).toEqual([1, 2]);
    expect(of("b").map((one) => toNumber(one.scoreAtLower))).toEqual([1, 2, 9]);
    expect(of("a")[1]?.lower).toEqual({ at: exactOf(3.1), included: true });
    expect(of("a").map((one) => one.line)).toEqual([3, 2]);
  });

  it.each([
    ["hills,taxa_richness,value,0,yes,1,no,1,1,,,,", "2:1", 'the set has no stratum "hills"; it has all'],
    [
      ",taxa_richnes,value,0,yes,1,no,1,1,,,,",
      "2:2",
      'the set has no metric "taxa_richnes"; did you mean "taxa_richness"?',
    ],
    [
      ",taxa_richness,ratio,0,yes,1,no,1,1,,,,",
      "2:3",
      'the basis must be value or percent-of-reference, not "ratio"',
    ],
    [",taxa_richness,value,1e3,yes,,,1,1,,,,", "2:4", '"1e3" is not a decimal number'],
    [',taxa_richness,value,"3,5",yes,,,1,1,,,,', "2:4", '"3,5" is not a decimal number'],
    [",taxa_richness,value,3,,,,1,1,,,,", "2:5", "say yes or no: does 3 itself belong to the segment?"],
    [",taxa_richness,value,3,maybe,,,1,1,,,,", "2:5", "say yes or no: does 3 itself belong to the segment?"],
    [",taxa_richness,value,3,yes,2,yes,1,1,,,,", "2:4", "the lower limit lies above the upper one"],
    [
      ",taxa_richness,value,3,yes,3,no,1,1,,,,",
      "2:4",
      "no value lies in this segment: both limits are equal, and one is left out",
    ],
    [",taxa_richness,value,3,yes,4,no,,1,,,,", "2:8", "a score is missing"],
    [",taxa_richness,value,3,yes,,,1,2,,,,", "2:6", "a line (two different scores) needs both limits"],
    [",taxa_richness,value,3,yes,4,no,1,1,,2,,", "2:10", "a slope needs a covariate"],
    [",taxa_richness,value,,,4,no,1,1,area,2,,", "2:11", "a slope without a lower limit"],
    [
      ",taxa_richness,value,3,yes,4,no,1,1,Area!,2,,",
      "2:10",
      '"Area!" is no column of a sample log (perhaps with log10: before it)',
    ],
  ])("%s is refused at %s", async (line, place, message) => {
    expect(await faults({ thresholds: [line] })).toEqual([`bare/thresholds.csv:${place} bad-set ${message}`]);
  });

  it("must have its columns, each once, and no others", async () => {
    const found = await messages({ thresholdsText: "stratum,metric,metric,lowr,upper\n" });
    expect(found).toEqual([
      'bad-set the column "metric" is there twice',
      'bad-set "lowr" is no column of this table; did you mean "lower"?',
      'bad-set the column "lower" is missing',
      'bad-set the column "lower_included" is missing',
      'bad-set the column "upper_included" is missing',
      'bad-set the column "score_at_lower" is missing',
      'bad-set the column "score_at_upper" is missing',
    ]);
  });

  it("has one basis and one covariate for a metric in a stratum", async () => {
    const found = await messages({
      thresholds: [
        row("taxa_richness", "[0,3)", 1),
        row("taxa_richness", "[3,)", 2, 2, { basis: "percent-of-reference" }),
      ],
    });
    expect(found).toEqual([
      "bad-set all segments of a metric in one stratum have one basis and one covariate; line 2 has others",
    ]);
  });
});

describe("gaps and overlaps", () => {
  const said = async (files: Parameters<typeof readWritten>[0]) =>
    (await readWritten(files)).findings.map((one) => [one.line, one.severity, one.code, one.message]);

  it("say which end is open", async () => {
    const rows = (...intervals: readonly string[]) => ({
      thresholds: intervals.map((interval, at) => row("taxa_richness", interval, at + 1)),
    });
    expect(await said(rows("(,5)", "(,8]"))).toEqual([
      [3, "warning", "set-overlap", "taxa_richness: everything up to 5 belongs to both line 2 and line 3"],
    ]);
    expect(await said(rows("(,)", "(,)"))).toEqual([
      [3, "warning", "set-overlap", "taxa_richness: every value belongs to both line 2 and line 3"],
    ]);
  });

  it("are warnings with the exact values", async () => {
    expect(
      await said({
        thresholds: [
          row("taxa_richness", "[0,3.75]", 1),
          row("taxa_richness", "[3.76,5)", 2),
          row("taxa_richness", "(5,8]", 3),
          row("taxa_richness", "[8,)", 4),
        ],
      }),
    ).toEqual([
      [
        3,
        "warning",
        "set-gap",
        "taxa_richness: what lies between 3.75 and 3.76 belongs to no class between line 2 and line 3",
      ],
      [4, "warning", "set-gap", "taxa_richness: 5 belongs to no class between line 3 and line 4"],
      [5, "warning", "set-overlap", "taxa_richness: 8 belongs to both line 4 and line 5"],
    ]);
  });

  it("are none where rounding steps over them, nor where the set states them", async () => {
    const thresholds = [row("taxa_richness", "[0,3.75]", 1), row("taxa_richness", "[3.76,)", 2)];
    expect(await said({ set: { metrics: [{ id: "taxa_richness", round_to: 2 }] }, thresholds })).toEqual([]);
    expect(
      await said({
        set: { metrics: [{ id: "taxa_richness", as_published: "gap", tie_rule: "below" }] },
        thresholds,
      }),
    ).toEqual([]);
  });

  it("of classes are found too, in every class table", async () => {
    const classes = [
      { rating: "good", lower: 5, lower_included: false },
      { rating: "poor", upper: 5, upper_included: false },
    ];
    const found = await said({
      set: {
        ratings: { on: "unrounded", classes },
        other_ratings: [{ id: "other", title: "Other", on: "unrounded", gaps: "between", classes }],
      },
    });
    expect(found.map(([, severity, code, message]) => [severity, code, message])).toEqual([
      ["warning", "set-gap", 'rating classes: 5 belongs to no class between "poor" and "good"'],
    ]);
  });
});

describe("the hash", () => {
  it("covers every file of the set and every shared table that it uses", async () => {
    const base = { thresholds: [row("taxa_richness", "[0,)", 1)] };
    const hashes = [
      (await usableSet(base)).hash,
      (await usableSet({ thresholds: [row("taxa_richness", "[0,)", 2)] })).hash,
      (await usableSet({ ...base, set: { title: "Another" } })).hash,
      (await usableSet({ ...base, set: { attributes: { tolerance: { scheme: "rbp1999-northwest" } } } }))
        .hash,
      (await usableSet({ ...base, set: { attributes: { tolerance: { scheme: "rbp1999-midwest" } } } })).hash,
    ];
    expect(new Set(hashes).size).toBe(hashes.length);
    expect((await usableSet(base)).hash).toBe(hashes[0]);
  });
});

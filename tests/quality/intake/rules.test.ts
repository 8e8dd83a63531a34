import { describe, expect, it } from "vitest";
import type { FindingCode } from "../../../src/findings/register.ts";
import { INTAKE_RULES, SEE_TO_FIRST } from "../../../src/quality/intake/check-intake.ts";
import { uncountedJars } from "../../../src/quality/intake/jars.ts";
import { placeOf } from "../../../src/quality/intake/places.ts";
import { placeOfFact } from "../../../src/quality/intake/rule.ts";
import { codesOf, intakeOf, logOf } from "./rows.ts";

describe("the rules of intake", () => {
  it("say nothing of a row that tells nothing", () => {
    expect(intakeOf([{ sample_id: "A" }, { sample_id: "B", note: "x" }])).toEqual([]);
  });

  it("have names of their own and list what does not wait", () => {
    expect(new Set(INTAKE_RULES.map((rule) => rule.name)).size).toBe(INTAKE_RULES.length);
    const codes: readonly FindingCode[] = INTAKE_RULES.flatMap((rule) => rule.codes);
    for (const code of SEE_TO_FIRST) expect(codes).toContain(code);
  });
});

describe("jars and labels", () => {
  it("reports more jars than expected; fewer hold the sample back elsewhere", () => {
    expect(intakeOf([{ containers_expected: "2", containers_received: "3" }])).toEqual([
      "2:3 jars-extra sample S1 has 3 jars, 2 were expected",
    ]);
    expect(intakeOf([{ containers_expected: "1", containers_received: "2" }])).toEqual([
      "2:3 jars-extra sample S1 has 2 jars, 1 was expected",
    ]);
    expect(codesOf({ containers_expected: "2", containers_received: "2" })).toEqual([]);
    expect(codesOf({ containers_expected: "2", containers_received: "1" })).toEqual([]);
    expect(codesOf({ containers_received: "3" })).toEqual([]);
  });

  it.each([
    ["VN-03", "VN-03", []],
    ["VN-03 ", "vn-03", []],
    ["VN  03", "VN 03", []],
    ["VN-03", "VN-08", ["label-mismatch"]],
    ["VN-03", "", ["label-missing"]],
    ["", "VN-03", ["label-missing"]],
    ["", "", []],
  ])("label %j outside and %j inside give %j", (outside_label, inside_label, codes) => {
    expect(codesOf({ outside_label, inside_label })).toEqual(codes);
  });

  it("says which label is missing or what the two say, at the cell of the one inside or missing", () => {
    expect(
      intakeOf([
        { outside_label: "VN-03", inside_label: "" },
        { outside_label: "", inside_label: "VN-03" },
        { outside_label: "VN-03", inside_label: "VN-08" },
        // Where a blank stands makes a difference, how many do not.
        { outside_label: "VN 03", inside_label: "VN03" },
      ]),
    ).toEqual([
      "2:3 label-missing sample S1 has a label outside and none inside",
      "3:2 label-missing sample S2 has a label inside and none outside",
      '4:3 label-mismatch the labels of S3 differ: "VN-03" outside, "VN-08" inside',
      '5:3 label-mismatch the labels of S4 differ: "VN 03" outside, "VN03" inside',
    ]);
  });

  it("asks for both labels only where the log has both columns", () => {
    expect(codesOf({ outside_label: "VN-03" })).toEqual([]);
  });

  it.each([
    [["1 of 2"], {}, 'the rows of S1 name 1 of its 2 jars: "1 of 2"'],
    [["1 of 2", "2 of 2"], {}, undefined],
    [["a"], { containers_received: "3" }, 'the rows of S1 name 1 of its 3 jars: "a"'],
    [["a"], { containers_expected: "2" }, 'the rows of S1 name 1 of its 2 jars: "a"'],
    [["a", "b"], { containers_received: "2" }, undefined],
    [["a"], {}, undefined],
    [["a", "b"], { containers_received: "3" }, 'the rows of S1 name 2 of its 3 jars: "a", "b"'],
    [["11 OF 12"], {}, 'the rows of S1 name 1 of its 12 jars: "11 OF 12"'],
    // Only a jar that is written so and nothing else tells how many there are.
    [["jar 1 of 2"], {}, undefined],
    [["1 of 2 kept"], {}, undefined],
    [[], { containers_received: "2" }, undefined],
  ])("rows that name the jars %j of a sample with %j give %j", (jars, row, message) => {
    const [facts] = logOf([row]).values();
    const place = { file: "sheet.csv", line: 2, column: 1 };
    expect(uncountedJars("S1", new Set(jars), facts, place)?.message).toBe(message);
  });
});

describe("dates", () => {
  it("may be today and not after it", () => {
    expect(intakeOf([{ collected_on: "2024-06-20", received_on: "2024-06-20" }])).toEqual([]);
    expect(intakeOf([{ collected_on: "2024-06-21T08:00" }, { sorted_on: "2042-01-01" }])).toEqual([
      "2:2 future-date collected_on of S1 is 2024-06-21, after today (2024-06-20)",
      "3:3 future-date sorted_on of S2 is 2042-01-01, after today (2024-06-20)",
    ]);
  });

  it.each([
    ["2024-06-03", "2024-06-03", "2024-06-03", []],
    ["2024-06-03", "2024-06-02", "", ["dates-out-of-order"]],
    ["2024-06-03", "2024-06-04", "2024-06-01", ["dates-out-of-order"]],
    ["2024-06-03", "", "2024-06-01", ["dates-out-of-order"]],
    ["2024-06-03T12:00", "2024-06-03", "", []],
    ["6/3/2024", "2024-06-02", "", []],
  ])("collected %j, received %j, sorted %j give %j", (collected_on, received_on, sorted_on, codes) => {
    expect(codesOf({ collected_on, received_on, sorted_on })).toEqual(codes);
  });
});

describe("areas and places", () => {
  // A Surber frame of one square foot is 0.0929 square metres: arithmetic of units.
  it.each([
    ["0.0929", []],
    ["0.001", []],
    ["100", []],
    ["929", ["odd-area"]],
    ["0.0009", ["odd-area"]],
    ["0", []],
    ["", []],
  ])("an area of %j gives %j", (area_sampled_m2, codes) => {
    expect(codesOf({ area_sampled_m2 })).toEqual(codes);
  });

  const near = [
    { latitude: "-47.1", longitude: "-124.3" },
    { latitude: "-47.2", longitude: "-124.2" },
    { latitude: "-47.3", longitude: "-124.1" },
  ];
  it.each([
    [{ latitude: "-47.15", longitude: "-124.25" }, []],
    [{ latitude: "-47.15", longitude: "124.25" }, ["-47.15, -124.25"]],
    [{ latitude: "47.15", longitude: "-124.25" }, ["-47.15, -124.25"]],
    [{ latitude: "47.15", longitude: "124.25" }, ["-47.15, -124.25"]],
    // Far away and no slip of these kinds: perhaps a survey of a whole continent.
    [{ latitude: "12.5", longitude: "33.1" }, []],
  ])("with %j among others suggests %j", (row, meant) => {
    const said = intakeOf([...near, row]);
    expect(said.map((text) => /; (.*) would lie among them/.exec(text)?.[1])).toEqual(meant);
  });

  it("finds each slip of exchanged coordinates and signs", () => {
    const slips: (readonly [string, string, readonly (readonly [number, number])[]])[] = [
      [
        "5",
        "-60",
        [
          [60, 5],
          [60, -5],
          [-60, 5],
          [-60, -5],
          [5, 60],
          [-5, 60],
          [-5, -60],
        ],
      ],
    ];
    for (const [latitude, longitude, places] of slips) {
      const others = ["0", "0.2", "0.4"].map((more) => ({
        latitude: String(Number(latitude) + Number(more)),
        longitude: String(Number(longitude) + Number(more)),
      }));
      for (const place of places) {
        const said = intakeOf([...others, { latitude: String(place[0]), longitude: String(place[1]) }]);
        expect(said, place.join()).toHaveLength(1);
        expect(said[0], place.join()).toContain(`; ${latitude}, ${longitude} would lie among them`);
      }
    }
  });

  it("is about the middle of the batch, which needs three places and is no mean", () => {
    const [a, b, c] = near;
    const turned = { latitude: "47.15", longitude: "-124.25" };
    expect(intakeOf([a ?? {}, b ?? {}])).toEqual([]);
    expect(intakeOf([a ?? {}, turned])).toEqual([]);
    expect(intakeOf([turned, a ?? {}, b ?? {}])).toHaveLength(1);
    // One wild place does not move it, wherever it stands in the log.
    const wild = { latitude: "80", longitude: "100" };
    expect(intakeOf([wild, turned, a ?? {}, b ?? {}, c ?? {}])).toHaveLength(1);
    expect(intakeOf([c ?? {}, b ?? {}, wild, a ?? {}, turned])).toHaveLength(1);
  });

  it("leaves coordinates out of range to the reading of the log", () => {
    for (const row of [
      { latitude: "91", longitude: "7" },
      { latitude: "-91", longitude: "7" },
      { latitude: "47.1", longitude: "181" },
      { latitude: "47.1", longitude: "-181" },
    ]) {
      const [facts] = logOf([row]).values();
      if (facts === undefined) throw new Error("no row");
      expect(placeOf(facts)).toBe(undefined);
    }
    const [edge] = logOf([{ latitude: "-90", longitude: "180" }]).values();
    expect(edge === undefined ? undefined : placeOf(edge)).toEqual({ latitude: -90, longitude: 180 });
    const [half] = logOf([{ latitude: "45" }]).values();
    expect(half === undefined ? "" : placeOf(half)).toBe(undefined);
  });

  it("finds latitude and longitude exchanged, and the date line is no distance", () => {
    const equator = [
      { latitude: "5", longitude: "60" },
      { latitude: "5.1", longitude: "60.1" },
      { latitude: "5.2", longitude: "60.2" },
    ];
    expect(intakeOf([...equator, { latitude: "60.1", longitude: "5.1" }])).toEqual([
      "5:2 odd-place 60.1, 5.1 of S4 lies far from the others; 5.1, 60.1 would lie among them",
    ]);
    const line = ["179.9", "-179.9", "179.8"].map((longitude) => ({ latitude: "-17", longitude }));
    expect(intakeOf(line)).toEqual([]);
  });

  it("asks for both coordinates, and not for 0, 0", () => {
    expect(
      intakeOf([
        { latitude: "45", longitude: "" },
        { latitude: "0", longitude: "0" },
        { latitude: "", longitude: "7" },
        { latitude: "0", longitude: "7" },
        { latitude: "45", longitude: "0" },
      ]),
    ).toEqual([
      "2:3 odd-place sample S1 has a latitude and no longitude",
      "3:2 odd-place latitude and longitude of S2 are both 0",
      "4:2 odd-place sample S3 has a longitude and no latitude",
    ]);
  });

  it("stands at the cell of the area, and at the start of a row whose log has no such column", () => {
    expect(intakeOf([{ site_id: "V", area_sampled_m2: "929" }])).toEqual([
      "2:3 odd-area area_sampled_m2 of S1 is 929",
    ]);
    const [facts] = logOf([{ site_id: "V" }]).values();
    if (facts === undefined) throw new Error("no row");
    expect(placeOfFact(facts, "site_id")).toEqual({ file: "log.csv", line: 2, column: 2 });
    expect(placeOfFact(facts, "latitude")).toEqual({ file: "log.csv", line: 2, column: 1 });
  });

  it("measures how far samples of a site lie apart, degrees of longitude being shorter away from the equator", () => {
    const at = (latitude: string, longitude: string) => ({ site_id: "V3", latitude, longitude });
    // 0.012 degrees are 1.33 km at the equator and 0.67 km at 60 degrees.
    expect(intakeOf([at("0", "7"), at("0", "7.012")])).toEqual([
      "3:3 site-differs S2 lies 1.3 km from S1 (line 2), and both are of site V3",
    ]);
    expect(intakeOf([at("60", "7"), at("60", "7.012")])).toEqual([]);
    expect(intakeOf([at("60", "7"), at("60", "7.024")])).toHaveLength(1);
    expect(intakeOf([at("45", "7"), { site_id: "V3", latitude: "", longitude: "" }])).toEqual([]);
    expect(intakeOf([{ site_id: "V3" }, at("45", "7")])).toEqual([]);
    // Samples without a site are of no common site.
    expect(
      intakeOf([
        { ...at("45", "7"), site_id: "" },
        { ...at("46", "7"), site_id: "" },
      ]),
    ).toEqual([]);
  });

  it("compares the samples of a site with its first one", () => {
    const first = {
      site_id: "V3",
      stratum: "valley",
      waterbody: "Drellow Ditch",
      latitude: "45",
      longitude: "7",
    };
    expect(intakeOf([first, { ...first, latitude: "45.008" }, { ...first, site_id: "V4" }])).toEqual([]);
    expect(
      intakeOf([first, { ...first, stratum: "upland", waterbody: "" }, { ...first, latitude: "45.010" }]),
    ).toEqual([
      '3:3 site-differs site V3 has the stratum "upland" for S2 and "valley" for S1 (line 2)',
      "4:5 site-differs S3 lies 1.1 km from S1 (line 2), and both are of site V3",
    ]);
  });
});

describe("links between samples", () => {
  it("must lead to a sample of the log or of the sheets", () => {
    expect(
      intakeOf(
        [
          { sample_id: "A", duplicate_of: "", reference_sample_id: "R" },
          { sample_id: "B", duplicate_of: "A" },
          { sample_id: "C", duplicate_of: "a" },
          { sample_id: "D", replicate_of: "X" },
        ],
        ["R"],
      ),
    ).toEqual([
      '4:2 unknown-sample duplicate_of of C points to "a", which is not there',
      '5:4 unknown-sample replicate_of of D points to "X", which is not there',
    ]);
  });

  it("must not lead in a circle", () => {
    expect(
      intakeOf([
        { sample_id: "A", duplicate_of: "A" },
        { sample_id: "B", duplicate_of: "C" },
        { sample_id: "C", duplicate_of: "B" },
        { sample_id: "D", duplicate_of: "C" },
      ]).map((text) => text.replace(/, so that.*/, "")),
    ).toEqual([
      "2:2 circular-duplicates duplicate_of of A points to the sample itself",
      "3:2 circular-duplicates duplicate_of of B leads back to it",
      "4:2 circular-duplicates duplicate_of of C leads back to it",
    ]);
  });

  it("of a duplicate lead to the same site and day", () => {
    const primary = { sample_id: "A", site_id: "V5", collected_on: "2024-06-03", duplicate_of: "" };
    const duplicate = { ...primary, sample_id: "A-D", duplicate_of: "A", collected_on: "2024-06-03T10:00" };
    expect(intakeOf([primary, duplicate])).toEqual([]);
    expect(
      intakeOf([
        primary,
        { ...duplicate, site_id: "V6" },
        { ...duplicate, sample_id: "A-E", collected_on: "2024-06-04" },
      ]),
    ).toEqual([
      "3:4 odd-duplicate A-D repeats A but is of site V6, not V5",
      "4:4 odd-duplicate A-E repeats A but is of day 2024-06-04, not 2024-06-03",
    ]);
    // A time of day is no other day, on either side; a site is compared to its last letter.
    const timed = { ...primary, collected_on: "2024-06-03T08:30" };
    expect(intakeOf([timed, { ...duplicate, collected_on: "2024-06-03" }])).toEqual([]);
    expect(
      intakeOf([
        { ...primary, site_id: "V-valley-site-1" },
        { ...duplicate, site_id: "V-valley-site-2" },
      ]),
    ).toHaveLength(1);
    const longSite = { site_id: "V-valley-site-1" };
    expect(
      intakeOf([
        { ...primary, ...longSite },
        { ...duplicate, ...longSite },
      ]),
    ).toEqual([]);
    // What is not known is no other site or day.
    expect(intakeOf([{ ...primary, site_id: "" }, duplicate])).toEqual([]);
    expect(intakeOf([primary, { ...duplicate, site_id: "", collected_on: "" }])).toEqual([]);
    // A replicate may be of another day, and a sample may be compared with itself or in turn.
    expect(
      intakeOf([
        { ...primary, replicate_of: "", reference_sample_id: "A-R" },
        {
          ...primary,
          sample_id: "A-R",
          collected_on: "2024-06-10",
          replicate_of: "A",
          reference_sample_id: "A",
        },
      ]),
    ).toEqual([]);
    // A duplicate of a sample that only the sheets have cannot be compared with its row.
    expect(intakeOf([{ ...duplicate, duplicate_of: "B" }], ["B"])).toEqual([]);
  });
});

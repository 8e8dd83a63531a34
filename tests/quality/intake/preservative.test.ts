import { describe, expect, it } from "vitest";
import { toNumber } from "../../../src/model/exact.ts";
import { finalStrength } from "../../../src/quality/intake/preservative.ts";
import { codesOf, intakeOf, logOf } from "./rows.ts";

function strength(row: Readonly<Record<string, string>>): number | undefined {
  const [facts] = logOf([row]).values();
  const exact = facts === undefined ? undefined : finalStrength(facts);
  return exact === undefined ? undefined : toNumber(exact);
}

// The limits of half a jar and of 70 percent are common practice, no source; the arithmetic is C1 V1 = C2 V2.
describe("preservative", () => {
  it.each([
    ["0.49", ["low-preservative"]],
    ["0.4999999", ["low-preservative"]],
    ["0.5", []],
    ["0.50", []],
    ["1", []],
    ["0", ["low-preservative"]],
    ["", []],
    // What cannot be read was said when the log was read.
    ["half", []],
    ["80", []],
  ])("that fills %s of the jar gives %j", (share, codes) => {
    expect(codesOf({ preservative: "isopropanol", preservative_fraction: share })).toEqual(codes);
  });

  it.each(["formalin", "10% formalin", "buffered Formaldehyde", "Formol"])("%s is asked neither", (name) => {
    expect(
      codesOf({ preservative: name, preservative_fraction: "0.1", ethanol_percent: "4", ethanol_ml: "1" }),
    ).toEqual([]);
  });

  it.each(["", "ethanol", "95% EtOH", "ethyl alcohol", "denatured alcohol", "ethanol, after formalin"])(
    "%j is asked both",
    (name) => {
      expect(codesOf({ preservative: name, preservative_fraction: "0.4", ethanol_percent: "95" })).toEqual([
        "low-preservative",
        "weak-ethanol",
      ]);
    },
  );

  it.each(["isopropyl alcohol", "methanol", "Lugol"])("%s is asked the share only", (name) => {
    expect(codesOf({ preservative: name, preservative_fraction: "0.4", ethanol_percent: "60" })).toEqual([
      "low-preservative",
    ]);
  });
});

describe("a finding of the preservative", () => {
  it("stands at the cell that it is about", () => {
    expect(
      intakeOf([{ site_id: "V", ethanol_percent: "60", ethanol_ml: "10", preservative_fraction: "0.4" }]),
    ).toEqual([
      "2:5 low-preservative preservative fills 0.4 of the jar of S1, less than half",
      "2:4 weak-ethanol the ethanol in S1 has come to 24 percent",
    ]);
    expect(intakeOf([{ site_id: "V", ethanol_percent: "60" }])).toEqual([
      "2:3 weak-ethanol the ethanol in S1 has come to 60 percent",
    ]);
  });
});

describe("the strength that ethanol came to", () => {
  it.each([
    [{ ethanol_percent: "100" }, 100],
    // A share of the jar that cannot be is as good as none, and so are words beside a number.
    [{ ethanol_percent: "95", preservative_fraction: "40" }, 95],
    [{ ethanol_percent: "95", preservative_fraction: "1" }, 95],
    [{ ethanol_percent: "95 percent" }, undefined],
    [{ ethanol_percent: "about 95" }, undefined],
    [{ ethanol_percent: "95", sample_water_ml: "100" }, 95],
    [{ ethanol_percent: "95", ethanol_ml: "700", sample_water_ml: "250" }, 70],
    [{ ethanol_percent: "95", ethanol_ml: "300", sample_water_ml: "100" }, 71.25],
    [{ ethanol_percent: "70", ethanol_ml: "500", sample_water_ml: "0" }, 70],
    [{ ethanol_percent: "95", preservative_fraction: "0.4" }, 38],
    // Measured volumes win over the share of the jar, which takes all the rest for water.
    [{ ethanol_percent: "95", ethanol_ml: "900", sample_water_ml: "50", preservative_fraction: "0.6" }, 90],
    // With nothing else it is no more than what was poured.
    [{ ethanol_percent: "60" }, 60],
    [{ ethanol_percent: "95", ethanol_ml: "500" }, 95],
    [{ ethanol_percent: "95", ethanol_ml: "0", sample_water_ml: "0" }, undefined],
    [{ ethanol_percent: "190", ethanol_ml: "500", sample_water_ml: "0" }, undefined],
    [{ preservative_fraction: "0.9" }, undefined],
    [{ ethanol_percent: "95", preservative: "formalin" }, undefined],
  ])("of %j is %s", (row, percent) => {
    expect(strength(row)).toBe(percent);
  });

  it("passes at 70 percent exactly and fails just below it", () => {
    const at = (ethanol_ml: string) => codesOf({ ethanol_percent: "95", ethanol_ml, sample_water_ml: "250" });
    expect(at("700")).toEqual([]);
    expect(at("699.999999999")).toEqual(["weak-ethanol"]);
  });

  it("needs 0.737 of the jar when 95 percent ethanol was poured", () => {
    const at = (preservative_fraction: string) => codesOf({ ethanol_percent: "95", preservative_fraction });
    expect([at("0.737"), at("0.736")]).toEqual([[], ["weak-ethanol"]]);
  });

  it("is never shown as the 70 that would pass", () => {
    expect(intakeOf([{ ethanol_percent: "69.99" }])).toEqual([
      "2:2 weak-ethanol the ethanol in S1 has come to 69.9 percent",
    ]);
  });
});

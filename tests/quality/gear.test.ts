import { describe, expect, it } from "vitest";
import { gearDifference, gearKinds, meshOf } from "../../src/quality/gear.ts";

describe("gear", () => {
  // Common practice, no source.
  it.each([
    ["D-frame net, 500 µm", ["net"]],
    ["Surber net", ["frame on the bed"]],
    ["Hess sampler", ["frame on the bed"]],
    ["kick net in riffles", ["net"]],
    ["Ponar grab", ["grab or dredge"]],
    ["Hester-Dendy", ["artificial substrate"]],
    ["drift net", ["drift net"]],
    ["corer or Ekman", ["corer", "grab or dredge"]],
    ["by hand", []],
  ])("%s is %j", (text, kinds) => expect([...gearKinds(text)]).toEqual(kinds));

  it("names its mesh", () => {
    expect(["500 µm", "500um net", "mesh 250 microns", "D-net 595 micrometres", "net"].map(meshOf)).toEqual([
      500,
      500,
      250,
      595,
      undefined,
    ]);
  });

  it("differs by kind or by mesh, and never by what is not said", () => {
    const set = "D-frame net, 500 µm";
    expect(gearDifference(set, "Ponar grab", undefined)).toBe('was taken with "Ponar grab"');
    expect(gearDifference(set, "kick net", 250)).toBe("was taken with a mesh of 250 µm");
    expect(gearDifference(set, "kick net, 250 um", undefined)).toBe("was taken with a mesh of 250 µm");
    for (const [gear, mesh] of [
      ["D-frame net", 500],
      [undefined, undefined],
      ["by hand", undefined],
      ["kick net or Surber", undefined],
    ] as const)
      expect(gearDifference(set, gear, mesh)).toBe(undefined);
    expect(gearDifference("whatever is at hand", "Ponar grab", 250)).toBe(undefined);
  });
});

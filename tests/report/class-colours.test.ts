import { describe, expect, it } from "vitest";
import { classColours, coloursOf, inkOn } from "../../src/report/class-colours.ts";
import { reportSample } from "./report-sample.ts";

/** Relative luminance and contrast as WCAG 2.2 defines them. */
function contrast(a: string, b: string): number {
  const luminance = (colour: string) => {
    const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => {
      const part = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
      return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
  };
  const [light = 0, dark = 0] = [luminance(a), luminance(b)].sort((x, y) => y - x);
  return (light + 0.05) / (dark + 0.05);
}

describe("colours of classes", () => {
  it("go from vermilion to blue of Okabe and Ito 2008 (hex values from memory)", () => {
    expect(classColours(5)).toEqual(["#d55e00", "#e69f00", "#f0e442", "#56b4e9", "#0072b2"]);
    expect(classColours(2)).toEqual(["#d55e00", "#0072b2"]);
    expect(classColours(1)).toEqual(["#0072b2"]);
    expect(classColours(0)).toEqual([]);
  });

  it("are all unlike, however many classes a set has", () => {
    for (let count = 1; count <= 9; count++) expect(new Set(classColours(count)).size).toBe(count);
  });

  it("carry an ink that reads on each with at least 4.5 to 1", () => {
    for (let count = 1; count <= 9; count++)
      for (const colour of [...classColours(count), "#999999"])
        expect(contrast(inkOn(colour), colour), colour).toBeGreaterThanOrEqual(4.5);
  });

  it("give the best class the best colour, whichever end of the scale it lies at", () => {
    const { classes } = reportSample();
    expect(coloursOf(classes, "better").get("good")).toBe("#0072b2");
    expect(coloursOf(classes, "worse").get("good")).toBe("#d55e00");
  });
});

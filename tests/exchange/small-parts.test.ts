import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fitId, fitText } from "../../src/exchange/fit-text.ts";
import { oneLine } from "../../src/exchange/one-line.ts";
import { BLURRED_UNCERTAINTY_M, publicPlace } from "../../src/exchange/public-place.ts";
import { measurementIdOf, recordIdOf, sampleIdOf, visitIdOf } from "../../src/exchange/stable-ids.ts";
import { record } from "./sample.ts";

const at = (latitude: string, longitude: string) =>
  new Map([
    ["latitude", latitude],
    ["longitude", longitude],
  ]);

describe("publicPlace", () => {
  it("never gives a protected place away, and lies within the uncertainty that it states", () => {
    const degrees = (most: number) =>
      fc.double({ min: -most, max: most, noNaN: true }).map((x) => x.toFixed(6));
    fc.assert(
      fc.property(degrees(90), degrees(180), (latitude, longitude) => {
        const place = publicPlace({ facts: at(latitude, longitude), isProtectedSite: true }, false);
        expect(place?.isBlurred).toBe(true);
        const [lat, lon] = [place?.latitude ?? Number.NaN, place?.longitude ?? Number.NaN];
        expect([lat, lon].map(Object.is.bind(undefined, -0))).toEqual([false, false]);
        expect([lat * 10, lon * 10].map((tenths) => Math.abs(tenths - Math.round(tenths)) < 1e-9)).toEqual([
          true,
          true,
        ]);
        // A degree of latitude is at most 111.7 km, one of longitude at most 111.32 km (WGS84; from memory).
        const metres = Math.hypot((lat - Number(latitude)) * 111_700, (lon - Number(longitude)) * 111_320);
        expect(metres).toBeLessThanOrEqual(BLURRED_UNCERTAINTY_M);
      }),
    );
  });

  it("gives other places as they are, and none that is no place", () => {
    const place = publicPlace({ facts: at("-47.1685", "12"), isProtectedSite: false }, false);
    expect(place).toEqual({ latitude: -47.1685, longitude: 12, isBlurred: false });
    for (const facts of [at("91", "0"), at("0", "181"), at("47 N", "0"), new Map<string, string>()])
      expect(publicPlace({ facts, isProtectedSite: false }, false)).toBe(undefined);
  });
});

describe("ids", () => {
  it("of different things are different", () => {
    const ids = fc.tuple(fc.string({ unit: "binary" }), fc.string({ unit: "binary" }));
    fc.assert(
      fc.property(ids, ids, ([a, b], [c, d]) => {
        fc.pre(a !== c || b !== d);
        fc.pre([a, b, c, d].every((text) => !/\p{Cs}/u.test(text)));
        expect(measurementIdOf({ sampleId: a }, "metric", b)).not.toBe(
          measurementIdOf({ sampleId: c }, "metric", d),
        );
        expect(recordIdOf({ sampleId: a }, record({ key: b }))).not.toBe(
          recordIdOf({ sampleId: c }, record({ key: d })),
        );
      }),
    );
  });

  it("can be made of any text", () => {
    expect(sampleIdOf({ sampleId: "a:b %\ud800" })).toBe("sample:a%3Ab%20%25%EF%BF%BD");
    expect(visitIdOf({ siteId: "V1", collectedOn: "" })).toBe(undefined);
  });

  it("do not depend on the taxon that a name is taken as", () => {
    const before = recordIdOf({ sampleId: "S" }, record({ taxon: "Baetis" }));
    expect(recordIdOf({ sampleId: "S" }, record({ taxon: "Acentrella", rank: "species" }))).toBe(before);
  });
});

describe("texts", () => {
  it("fit, whole when they can", () => {
    fc.assert(
      fc.property(
        fc.string({ unit: "grapheme", maxLength: 80 }),
        fc.integer({ min: 12, max: 60 }),
        (text, most) => {
          const isLong = [...text].length > most;
          for (const fitted of [fitId(text, most), fitText(text, most)]) {
            expect([...fitted].length).toBeLessThanOrEqual(most);
            if (!isLong) expect(fitted).toBe(text);
          }
        },
      ),
    );
    expect(fitText("abcdef", 4)).toBe("abc…");
  });

  it("are one line", () => {
    expect(oneLine(" a\r\n\tb\u2028c\u0000d ")).toBe("a b c d");
  });
});

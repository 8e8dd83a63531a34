import { readFileSync } from "node:fs";
import { dirname, relative, resolve } from "node:path";
import { describe, expect, it } from "vitest";

const SRC = resolve(import.meta.dirname, "../../src");

/** All that a file loads when it is loaded: its imports of values, and theirs; what it imports later is left out. */
function loadedBy(start: string): Set<string> {
  const loaded = new Set<string>();
  const open = [resolve(SRC, start)];
  for (let file = open.pop(); file !== undefined; file = open.pop()) {
    const code = readFileSync(file, "utf8");
    for (const [, target = ""] of code.matchAll(/^(?:import|export) (?!type )[^;]*?from "([^"]+)";/gm)) {
      const found = target.startsWith(".") ? relative(SRC, resolve(dirname(file), target)) : target;
      if (loaded.has(found)) continue;
      loaded.add(found);
      if (target.startsWith(".")) open.push(resolve(SRC, found));
    }
  }
  return loaded;
}

describe("a command that needs no reference set", () => {
  it.each(["cli/subsample-run.ts", "cli/expected-run.ts", "cli/check-run.ts", "cli/grids/grids-run.ts"])(
    "%s loads neither what reads a set nor the catalogue of metrics",
    (start) => {
      const loaded = loadedBy(start);
      expect(loaded.size).toBeGreaterThan(40);
      expect(
        [...loaded].filter((one) => one === "zod" || /^metrics\/(catalogue|registry)/.test(one)),
      ).toEqual([]);
    },
  );

  it("is told from one that does", () => {
    const loaded = loadedBy("cli/score-run.ts");
    expect([loaded.has("zod"), loaded.has("metrics/registry.ts")]).toEqual([true, true]);
  });
});

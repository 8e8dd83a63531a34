import { readFileSync } from "node:fs";
import { defineConfig } from "vitest/config";

const { version } = JSON.parse(readFileSync(new URL("package.json", import.meta.url), "utf8")) as {
  version: string;
};

export default defineConfig({
  define: { JARTALLY_VERSION: JSON.stringify(version) },
  test: {
    include: ["tests/**/*.test.ts"],
    globalSetup: ["tests/helpers/temporary-room.ts"],
    testTimeout: 30_000,
    hookTimeout: 60_000,
    env: { TZ: "UTC", LC_ALL: "C", NO_COLOR: "1" },
  },
});

import { defineConfig } from "vitest/config";

/** Pages in a real browser: `npm run test:browser`. No part of `npm test`, which needs node and npm only. */
export default defineConfig({
  test: {
    include: ["tests/browser/**/*.browser.ts"],
    globalSetup: ["tests/helpers/temporary-room.ts"],
    testTimeout: 60_000,
    hookTimeout: 120_000,
    // One browser, and a page at a time: steady on small machines.
    fileParallelism: false,
    env: { TZ: "UTC", LC_ALL: "C", NO_COLOR: "1" },
  },
});

import { defineOption, defineSwitch } from "../define.ts";

export const runOption = defineOption<string>({
  flags: "--run <dir>",
  summary:
    "Leave a run folder: scores, rows, draw, counts, findings, the set with all it used, and checksums. It must not exist yet.",
  group: "Output",
  parse: (word) => word,
});

export const stampOption = defineSwitch({
  flags: "--stamp",
  summary:
    "Write the time, the Node.js version and the platform into the run's record; without it the same inputs give the same bytes.",
  group: "Output",
});

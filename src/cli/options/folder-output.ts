import { defineOption, defineSwitch } from "../define.ts";

export const folderOption = defineOption<string>({
  flags: "-o, --output <dir>",
  summary: "The folder to make. It must not exist yet; it appears whole or not at all.",
  group: "Output",
  parse: (word) => word,
});

export const exactPlacesOption = defineSwitch({
  flags: "--exact-places",
  summary:
    "Show coordinates as the log has them also where protected animals were found; without it they are rounded to 0.1 degree.",
  group: "Output",
});

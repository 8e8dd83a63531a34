import { defineSwitch } from "../define.ts";

export const noSettingsOption = defineSwitch({
  flags: "--no-settings",
  summary: "Do not read jartally.json, the settings file of the working folder.",
  group: "Input",
});

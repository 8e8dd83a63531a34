import { at } from "../../model/at.ts";
import type { ChoiceGrouping } from "../../quality/choice-candidates.ts";
import { CHOICE_GROUPINGS } from "../../quality/choice-candidates.ts";
import { defineCommand, defineOption, UsageError } from "../define.ts";
import { seedOption } from "../options/draw.ts";
import { encodingOption } from "../options/input.ts";
import { MESSAGE_OPTIONS, parseWholeNumber } from "../options/messages.ts";
import { OUTPUT_OPTIONS } from "../options/output.ts";
import { shareOption, tableOption, USUAL_SHARE } from "./options.ts";

const byOption = defineOption<ChoiceGrouping>({
  flags: "--by <column>",
  summary: "Take the share of each sorter's, lot's or taxonomist's samples, at least one.",
  group: "Method",
  choices: () => CHOICE_GROUPINGS,
  defaultText: "the share of the whole log",
  parse: (word) => CHOICE_GROUPINGS.find((one) => one === word) ?? "lot",
});

const roundOption = defineOption<number>({
  flags: "--round <n>",
  summary: "Which share is taken: 2 is a second one when the first has failed; never a sample twice.",
  group: "Method",
  defaultText: "1",
  parse: (word) => {
    const round = parseWholeNumber(word);
    if (round === 0) throw new UsageError("rounds are counted from 1");
    return round;
  },
});

const onlyOption = defineOption<readonly string[]>({
  flags: "--only <groups>",
  summary: "Only these groups of --by, with commas between them: the lots that failed, for instance.",
  group: "Method",
  parse: (word) => {
    const names = word
      .split(",")
      .map((name) => name.trim())
      .filter((name) => name !== "");
    if (names.length === 0) throw new UsageError("name at least one group");
    return names;
  },
});

const checkedOption = defineOption<string>({
  flags: "--checked <file>",
  summary: "Leave out the samples of this table (an earlier choice or a check): column sample_id.",
  group: "Input",
  parse: (word) => word,
});

const chooseTableOption = tableOption(["chosen", "groups"], "chosen");

export const choose = defineCommand({
  name: "choose",
  summary: "which samples a second person checks",
  description:
    "Chooses at random which samples of a log are sorted or identified again: a share of each sorter's, lot's or taxonomist's samples, rounded up, so that everybody has at least one; and all samples of people marked as trainees (column trainee; a person marked on one row is a trainee on every row that does not say no).\n\nThe same log, share and seed choose the same samples for ever, and a group's samples do not depend on other groups. When a lot fails, --round 2 goes on where the first round stopped.",
  operands: [{ name: "<log>", summary: "The sample log." }],
  options: [
    shareOption,
    byOption,
    roundOption,
    onlyOption,
    seedOption,
    checkedOption,
    encodingOption,
    chooseTableOption,
    ...OUTPUT_OPTIONS,
    ...MESSAGE_OPTIONS,
  ],
  examples: [
    {
      line: "jartally qc choose sample-log.csv --share 10% --by sorter --seed 7",
      explains: "A tenth of each sorter's samples, and all of a trainee's.",
    },
    {
      line: "jartally qc choose sample-log.csv --by lot --round 2 --only 2023-1,2024-1 --seed 7",
      explains: "A second tenth of the two lots that failed.",
    },
  ],
  run: async (context, input) => {
    const { options } = input;
    const grouping = options.get(byOption);
    const only = options.get(onlyOption);
    if (only !== undefined && grouping === undefined)
      throw new UsageError("--only names groups, so it needs --by", `--by ${CHOICE_GROUPINGS.join("|")}`);
    const [{ openInput }, { planOutput }, { settleSeed }, { chooseRechecks }, { finishQuality }] =
      await Promise.all([
        import("../../files/input.ts"),
        import("../output.ts"),
        import("../seed.ts"),
        import("../../pipeline/quality/choice-run.ts"),
        import("./run-quality.ts"),
      ]);
    const world = { stdin: context.stdin, cwd: context.cwd };
    const log = at(input.operands, 0);
    const checked = options.get(checkedOption);
    if (log === "-" && checked === "-") throw new UsageError("standard input (-) can be given once only");
    const files = {
      sampleLog: await openInput(log, world),
      checked: checked === undefined ? undefined : await openInput(checked, world),
      encoding: options.get(encodingOption),
    };
    const plan = await planOutput(context, options, checked === undefined ? [log] : [log, checked]);
    const { share, text } = options.get(shareOption) ?? USUAL_SHARE;
    const seed = settleSeed(options.get(seedOption), context);
    const run = await chooseRechecks(files, {
      share,
      shareText: text,
      grouping,
      round: options.get(roundOption) ?? 1,
      seed,
      only,
    });
    return finishQuality(context, options, plan, run, {
      command: "choose",
      title: "Samples to re-check",
      table: options.get(chooseTableOption),
      seed,
    });
  },
});

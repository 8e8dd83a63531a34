import type { InputFile } from "../../files/input.ts";
import { FindingCollector } from "../../findings/collector.ts";
import { finding, wholeFile } from "../../findings/finding.ts";
import type { Exact } from "../../model/exact.ts";
import { fact } from "../../model/sample-facts.ts";
import type { ChoiceGrouping } from "../../quality/choice-candidates.ts";
import { choiceCandidates } from "../../quality/choice-candidates.ts";
import type { GroupChoice } from "../../quality/choose.ts";
import { CHOICE_ALGORITHM, chooseSamples } from "../../quality/choose.ts";
import type { QualityTable } from "../../report/quality-table.ts";
import { readSampleIds } from "../../sheets/sample-ids.ts";
import { readSampleLog } from "../../sheets/sample-log.ts";
import { randomStream } from "../../subsample/stream.ts";
import { placeOfFact } from "../log-checks.ts";
import type { QualityRun } from "./quality-run.ts";
import { countText, number, refusedRun, text } from "./quality-run.ts";

export interface ChoiceFiles {
  readonly sampleLog: InputFile;
  /** A table with the ids of samples that were checked before. */
  readonly checked?: InputFile | undefined;
  readonly encoding?: string | undefined;
}

export interface RecheckChoices {
  readonly share: Exact;
  /** As the user wrote it, for the summary. */
  readonly shareText: string;
  readonly grouping: ChoiceGrouping | undefined;
  readonly round: number;
  readonly seed: string;
  /** Names of the groups to choose from; undefined for all. */
  readonly only: readonly string[] | undefined;
}

/**
 * Chooses the samples of a log that are re-checked.
 *
 * @throws FileError when a file cannot be read
 */
export async function chooseRechecks(files: ChoiceFiles, choices: RecheckChoices): Promise<QualityRun> {
  const findings = new FindingCollector();
  const options = { encoding: files.encoding };
  const log = await readSampleLog(files.sampleLog, options, findings);
  const checked = files.checked && (await readSampleIds(files.checked, options, findings));
  const inputs = [log.digest, checked?.digest].filter((digest) => digest !== undefined);
  if (log.unreadable || checked?.unreadable === true) return refusedRun(findings.all, inputs);

  const { grouping, seed } = choices;
  const candidates = choiceCandidates([...log.samples.values()], grouping);
  const groups = new Set(candidates.map(({ group }) => group));
  const unknown = (choices.only ?? []).filter((name) => !groups.has(name));
  for (const name of unknown) {
    findings.add(
      finding("no-check-group", wholeFile(log.file), {
        message: `no sample of the log has the ${grouping ?? "group"} "${name}"`,
        hint: "correct the word behind --only; it must be written as in the log",
        severity: "error",
      }),
    );
  }
  if (unknown.length > 0) return refusedRun(findings.all, inputs);
  const wanted = candidates.filter(({ group }) => choices.only?.includes(group) !== false);
  for (const { sampleId, group } of wanted) {
    const facts = log.samples.get(sampleId);
    if (grouping === undefined || group !== "" || facts === undefined) continue;
    const message = `${sampleId} has no ${grouping}; it is chosen among the samples without one`;
    findings.add(finding("no-check-group", placeOfFact(facts, grouping), { message, sampleId }));
  }
  const chosen = chooseSamples(wanted, {
    share: choices.share,
    round: choices.round,
    checked: checked?.ids ?? new Set(),
    stream: (group) => randomStream(CHOICE_ALGORITHM, seed, group, grouping ?? "all"),
  });
  for (const one of chosen) {
    if (!one.isExhausted) continue;
    const left = one.chosen.filter(({ reason }) => reason === "share").length;
    findings.add(
      finding("share-exhausted", wholeFile(log.file), {
        message: `${groupText(one, grouping)}: ${one.asked} asked for, ${left} left that ${left === 1 ? "was" : "were"} not chosen or checked before`,
      }),
    );
  }
  const total = chosen.reduce((sum, one) => sum + one.chosen.length, 0);
  const trainees = chosen.flatMap((one) => one.chosen).filter(({ reason }) => reason === "trainee").length;
  return {
    tables: [
      chosenTable(chosen, choices, (id, column) => fact(log.samples.get(id), column) ?? ""),
      groupsTable(chosen, grouping),
    ],
    charts: [],
    findings: findings.all,
    inputs,
    outcome: "pass",
    summary: `${countText(total, "sample")} of ${candidates.length} chosen: ${choices.shareText} of each ${grouping ?? "log"}, at least one${trainees > 0 ? `, and ${trainees} of trainees` : ""}; round ${choices.round}, seed ${seed}, ${CHOICE_ALGORITHM}`,
    rules: [],
  };
}

function groupText({ group }: GroupChoice, grouping: ChoiceGrouping | undefined): string {
  if (grouping === undefined) return "the log";
  return group === "" ? `samples without a ${grouping}` : `${grouping} ${group}`;
}

function chosenTable(
  chosen: readonly GroupChoice[],
  { grouping, round, seed }: RecheckChoices,
  logged: (sampleId: string, column: "site_id" | "lot" | "sorter" | "taxonomist") => string,
): QualityTable {
  return {
    id: "chosen",
    title: "Samples to re-check",
    explains: "One row a chosen sample, group by group.",
    brief: ["sample_id", "lot", "sorter", "taxonomist", "group", "reason"],
    columns: [
      text("sample_id"),
      text("site_id"),
      text("lot"),
      text("sorter"),
      text("taxonomist"),
      text("chosen_by"),
      text("group"),
      text("reason"),
      number("round"),
      text("seed"),
      text("algorithm"),
    ],
    rows: chosen.flatMap((one) =>
      one.chosen.map(({ sampleId, group, reason }) => [
        sampleId,
        ...(["site_id", "lot", "sorter", "taxonomist"] as const).map((column) => logged(sampleId, column)),
        grouping ?? "log",
        group,
        reason,
        round,
        seed,
        CHOICE_ALGORITHM,
      ]),
    ),
  };
}

function groupsTable(chosen: readonly GroupChoice[], grouping: ChoiceGrouping | undefined): QualityTable {
  return {
    id: "groups",
    title: "Groups",
    explains: "One row a group: how many samples it has, how many its share asks for, how many were chosen.",
    brief: ["group", "samples", "trainee_samples", "asked", "chosen", "exhausted"],
    columns: [
      text("chosen_by"),
      text("group"),
      number("samples"),
      number("trainee_samples"),
      number("asked"),
      number("chosen"),
      text("exhausted"),
    ],
    rows: chosen.map((one) => [
      grouping ?? "log",
      one.group,
      one.candidates,
      one.trainees,
      one.asked,
      one.chosen.length,
      one.isExhausted ? "yes" : "no",
    ]),
  };
}

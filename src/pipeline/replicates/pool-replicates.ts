import type { FindingSink } from "../../findings/collector.ts";
import { finding } from "../../findings/finding.ts";
import type { FindingCode } from "../../findings/register.ts";
import { at } from "../../model/at.ts";
import { numberText } from "../../model/number-text.ts";
import { RowTable } from "../../model/rows.ts";
import type { SampleFacts } from "../../model/sample-facts.ts";
import { fractionSorted, numericFact } from "../../model/sample-facts.ts";
import { isHeldBack, placeOfFact } from "../log-checks.ts";
import type { Batch } from "../score-batch.ts";
import type { ReplicateGroup } from "./replicate-groups.ts";

/**
 * A batch in which the replicates of a group are one sample: all their rows together, under the id of the group,
 * before anything is drawn. The areas netted add up. Replicates of which different shares were sorted cannot be
 * put together as they are (an animal would weigh more in one than in another), so such a group is refused; a
 * fault in one replicate refuses its group, and jars missing of one hold it back.
 */
export function poolReplicates(
  batch: Batch,
  groups: readonly ReplicateGroup[],
  findings: FindingSink,
): Batch {
  const groupOf = new Map(
    groups.flatMap(({ id, samples }) => samples.map((sample) => [sample, id] as const)),
  );
  const refused = new Map<string, readonly FindingCode[]>();
  const log = new Map<string, SampleFacts>();
  for (const group of groups) {
    const members = group.samples.map((sample) => batch.table.samples.textOf(sample));
    const codes = new Set(members.flatMap((sampleId) => batch.refused.get(sampleId) ?? []));
    const facts = members.flatMap((sampleId) => batch.log.get(sampleId) ?? []);
    if (members.length > 1 && reportFractions(group.id, members, batch.log, findings))
      codes.add("replicate-fractions");
    if (codes.size > 0) refused.set(group.id, [...codes]);
    const pooled = pooledFacts(group.id, facts, members.length);
    if (pooled !== undefined) log.set(group.id, pooled);
  }
  const table = renamed(batch.table, groupOf);
  const facts = table.samples.texts.map((id) => log.get(id));
  return { ...batch, table, refused, log, facts };
}

/** The same rows under the ids of their groups. Names keep their numbers: they are met in the same order. */
function renamed(table: RowTable, groupOf: ReadonlyMap<number, string>): RowTable {
  const pooled = new RowTable();
  let file = -1;
  for (let row = 0; row < table.size; row++) {
    for (; file < table.fileNumberAt(row); file++) pooled.startFile(at(table.files, file + 1));
    pooled.setNameColumn(table.nameColumnAt(row));
    const sample = table.sampleAt(row);
    pooled.add({
      sampleId: groupOf.get(sample) ?? table.samples.textOf(sample),
      name: table.names.textOf(table.nameAt(row)),
      count: table.countAt(row),
      stage: table.stageAt(row),
      flags: table.flagsAt(row),
      line: table.lineAt(row),
      column: table.columnAt(row),
      rare: table.rareAt(row),
    });
  }
  return pooled;
}

/** Whether different shares of the replicates were sorted, with a finding when so. */
function reportFractions(
  id: string,
  members: readonly string[],
  log: Batch["log"],
  findings: FindingSink,
): boolean {
  const shares = members.map((sampleId) => fractionSorted(log.get(sampleId)));
  if (new Set(shares).size < 2) return false;
  const facts = members.map((sampleId) => log.get(sampleId)).find((one) => one !== undefined);
  if (facts === undefined) return false;
  const shown = members.map((sampleId, at) => {
    const share = shares[at];
    return `${sampleId} ${share === undefined ? "not known" : numberText(share)}`;
  });
  findings.add(
    finding("replicate-fractions", placeOfFact(facts, "fraction_sorted"), {
      message: `the replicates of ${id} were sorted to different fractions (${shown.join(", ")}), so they cannot be pooled`,
      sampleId: id,
    }),
  );
  return true;
}

/** The log of the pooled sample: that of the first replicate, with the areas of all and the jars of all. */
function pooledFacts(id: string, facts: readonly SampleFacts[], members: number): SampleFacts | undefined {
  const own = facts.find((one) => one.sampleId === id) ?? facts[0];
  if (own === undefined || members === 1) return own;
  const texts = new Map(own.texts);
  const areas = facts.map((one) => numericFact(one, "area_sampled_m2"));
  const isKnown = facts.length === members && areas.every((area) => area !== undefined);
  if (isKnown)
    texts.set("area_sampled_m2", numberText(areas.reduce((sum: number, area) => sum + (area as number), 0)));
  else texts.delete("area_sampled_m2");
  const missing = facts.find((one) => isHeldBack(one.sampleId, one, { add() {} }));
  for (const column of ["containers_expected", "containers_received"]) {
    const text = missing?.texts.get(column);
    if (text !== undefined) texts.set(column, text);
  }
  return { sampleId: id, texts, file: own.file, line: own.line, columns: own.columns };
}

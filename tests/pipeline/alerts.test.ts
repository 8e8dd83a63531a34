import { describe, expect, it } from "vitest";
import { inputFromBytes } from "../../src/files/input.ts";
import { FindingCollector } from "../../src/findings/collector.ts";
import { findAlerts, watchFor } from "../../src/pipeline/alerts.ts";
import { loadRows } from "../../src/pipeline/load-rows.ts";
import { readAlertsList } from "../../src/sheets/alerts-list.ts";
import { brief } from "../helpers/reading.ts";
import { saying } from "../helpers/small-batch.ts";

async function listOf(rows: string) {
  const findings = new FindingCollector();
  const list = await readAlertsList(inputFromBytes("alerts.csv", `taxon,kind,note\n${rows}`), {}, findings);
  return { list, findings: findings.all };
}

async function alertsOf(list: string, sheet: string) {
  const { rows, findings: read } = await loadRows({
    sheets: [inputFromBytes("sheet.csv", `sample_id,taxon,count,life_stage,disposition\n${sheet}`)],
  });
  if (rows === undefined) throw new Error("unreadable");
  const findings = new FindingCollector();
  const watch = watchFor((await listOf(list)).list, rows.names, rows.space, findings);
  const { order, starts } = rows.table.bySample();
  const alerts = rows.table.samples.texts.flatMap((sampleId, number) =>
    findAlerts(sampleId, order.subarray(starts[number], starts[number + 1]), rows, watch, findings),
  );
  return {
    alerts: alerts.map((one) => `${one.sampleId} ${one.animals} ${one.found} ${one.listed.kind}`),
    findings: findings.all,
    read,
  };
}

describe("the lab's list of taxa to watch for", () => {
  it("finds a taxon and what is below it, under any of its names, once in a sample", async () => {
    const { alerts, findings } = await alertsOf(
      "Dreissenidae,invasive,call the office\nPacifastacus,protected,\n",
      "A,Dreissena,3,,\nA,Baetis,5,,\nB,dreissena sp.,1,shell,\nA,Dreissena,2,,\nC,Pacifastacus leniusculus,1,,released\nC,Dreissena,0,,\n",
    );
    expect(alerts).toEqual([
      "A 5 Dreissena invasive",
      "B 1 Dreissena invasive",
      "C 1 Pacifastacus leniusculus protected",
    ]);
    expect(saying(findings, "listed-taxon")).toEqual([
      "2 warning 5 Dreissena in sample A: invasive, call the office",
      "4 warning 1 Dreissena in sample B: invasive, call the office",
      "6 warning 1 Pacifastacus leniusculus in sample C: protected",
    ]);
  });

  it("refuses a name that would stay silent for ever", async () => {
    const { findings } = await alertsOf("Dreisena,invasive,\n", "A,Dreissena,3,,\n");
    expect(saying(findings, "unknown-listed-taxon")).toEqual([
      '2 error "Dreisena" is no known taxon; close names: Dreissena',
    ]);
  });

  it("reads kinds, repeats and an empty list", async () => {
    const { list, findings } = await listOf(
      "Juga,Protected,a\nJuga,protected,b\nCorbicula,pest,\nJuga,invasive,\n",
    );
    expect(list.taxa.map(({ taxon, kind, note }) => `${taxon} ${kind} ${note}`)).toEqual([
      "Juga protected a",
    ]);
    expect(findings.map(brief)).toEqual([
      "3:2 warning repeated-value",
      "4:2 error bad-value",
      "5:2 error conflicting-values",
    ]);
    expect(list.unreadable).toBe(true);
    const empty = await listOf("");
    expect([empty.list.unreadable, empty.findings.map(brief)]).toEqual([false, ["1:0 note no-rows"]]);
  });
});

describe("animals that go back to the stream alive", () => {
  it("are pointed out where the sheet does not say that they did", async () => {
    const { read } = await alertsOf(
      "",
      "A,Margaritifera,2,,\nA,Margaritifera,1,,kept\nB,Margaritifera,4,,released\nC,Margaritifera,3,shell,\nD,Corbicula,3,,\nE,Margaritifera,0,,\n",
    );
    const reason =
      "native freshwater mussels: many species protected; identify in the field and return alive";
    expect(saying(read, "kept-protected")).toEqual([
      `2 warning 3 Margaritifera in sample A: the sheet does not say that they were put back alive (${reason})`,
    ]);
  });
});

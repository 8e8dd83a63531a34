import type { FindingSink } from "../findings/collector.ts";
import type { Place } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import { RowTable } from "../model/rows.ts";
import type { CleanCell } from "./cell-text.ts";
import { cleanCell, isUnusable, ownText } from "./cell-text.ts";
import type { CellFault } from "./count.ts";
import type { SummaryKind } from "./summary-rows.ts";
import { summaryKindOf } from "./summary-rows.ts";

/** Gathers the rows of all bench sheets of a batch, and which samples have a fault. */
export class BenchSheetBuilder {
  readonly table = new RowTable();
  /** True when a fault could hide rows of any sample. */
  unreadable = false;
  readonly #refused = new Map<string, FindingCode[]>();
  readonly #findings: FindingSink;
  /** Cells of sample ids and names met so far, by their raw text: each is cleaned and complained of once. */
  readonly #samples = new Map<string, CleanCell>();
  readonly #names = new Map<string, CleanCell>();
  /** Names met so far whose rows sum up others; hardly any sheet has one. */
  readonly #summaries = new Map<string, SummaryKind>();

  constructor(findings: FindingSink) {
    this.#findings = findings;
  }

  get refused(): ReadonlyMap<string, readonly FindingCode[]> {
    return this.#refused;
  }

  get findings(): FindingSink {
    return this.#findings;
  }

  /** The sample id in a cell; undefined when it cannot be read, which makes the whole run unreadable. */
  sample(raw: string, file: string, line: number, column: number): string | undefined {
    const cell = this.#clean(this.#samples, raw, file, line, column);
    const { text, fault } = cell;
    if (text === "") {
      this.fail({ file, line, column }, { code: "missing-sample-id", message: "the row has no sample id" });
      return undefined;
    }
    if (fault !== undefined && isUnusable(cell)) {
      this.fail({ file, line, column }, fault);
      return undefined;
    }
    return text;
  }

  /** The name in a cell; empty when there is none or it cannot be used (`nameFault` then says why). */
  name(raw: string, file: string, line: number, column: number): string {
    const known = this.#names.size;
    const cell = this.#clean(this.#names, raw, file, line, column);
    if (this.#names.size > known) {
      const kind = summaryKindOf(cell.text);
      if (kind !== undefined) this.#summaries.set(cell.text, kind);
    }
    return isUnusable(cell) ? "" : cell.text;
  }

  /** What the rows of a name sum up, for a name that `name` gave; undefined for an animal. */
  summaryOf(name: string): SummaryKind | undefined {
    return this.#summaries.size === 0 ? undefined : this.#summaries.get(name);
  }

  /** Why `name` gave no name for a cell. */
  nameFault(raw: string): CellFault {
    return this.#names.get(raw)?.fault ?? { code: "missing-taxon", message: "the row has no taxon" };
  }

  /** Reports a fault of a sample and refuses the sample when it is an error. */
  fault(place: Place, fault: CellFault, sampleId: string): void {
    const found = finding(fault.code, place, { message: fault.message, hint: fault.hint, sampleId });
    this.#findings.add(found);
    this.table.samples.add(sampleId);
    if (found.severity === "error") this.#note(sampleId, fault.code);
  }

  /** Reports a fault that could hide rows of any sample. */
  fail(place: Place, fault: CellFault): void {
    const { message, hint } = fault;
    this.#findings.add(finding(fault.code, place, { message, hint, severity: "error" }));
    this.unreadable = true;
  }

  #note(sampleId: string, code: FindingCode): void {
    const codes = this.#refused.get(sampleId);
    if (codes === undefined) this.#refused.set(sampleId, [code]);
    else if (!codes.includes(code)) codes.push(code);
  }

  #clean(memo: Map<string, CleanCell>, raw: string, file: string, line: number, column: number): CleanCell {
    const known = memo.get(raw);
    if (known !== undefined) return known;
    const own = ownText(raw);
    const { text, fault } = cleanCell(own);
    const clean = fault === undefined ? { text } : { text, fault };
    memo.set(own, clean);
    // A cell that cannot be used is reported in every row that has it, together with the sample it refuses.
    if (fault?.code === "invisible-character")
      this.#findings.add(finding(fault.code, { file, line, column }, { message: fault.message }));
    return clean;
  }
}

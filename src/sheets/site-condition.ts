import type { InputFile } from "../files/input.ts";
import { quoted } from "../files/visible-text.ts";
import type { FindingSink } from "../findings/collector.ts";
import { finding } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import type { ReadFile, SheetOptions } from "./bench-sheet.ts";
import { readRecords } from "./records.ts";

/** What is known of a site, or of one sample of it, apart from its animals. */
export interface SiteCondition {
  /** Whether `id` is a sample or a site. */
  readonly of: "sample" | "site";
  readonly id: string;
  /** `reference`, `stressed` or another word of the lab's, in lower case. */
  readonly condition: string;
  /** Empty when not given. */
  readonly stratum: string;
  readonly line: number;
}

/** The conditions of sites and samples, by their ids. */
export interface SiteConditions {
  readonly samples: ReadonlyMap<string, SiteCondition>;
  readonly sites: ReadonlyMap<string, SiteCondition>;
  /** Ids with an error in a row, with the codes. */
  readonly refused: ReadonlyMap<string, readonly FindingCode[]>;
  readonly unreadable: boolean;
  readonly file: string;
  readonly digest: ReadFile;
}

/**
 * Reads which sites or samples are reference and which are stressed: site_id or sample_id, condition, stratum. A
 * row with both ids is about the sample.
 *
 * @throws FileError when the file cannot be read any more
 */
export async function readSiteConditions(
  input: InputFile,
  options: SheetOptions,
  findings: FindingSink,
): Promise<SiteConditions> {
  const samples = new Map<string, SiteCondition>();
  const sites = new Map<string, SiteCondition>();
  const read = await readRecords(
    input,
    options,
    {
      kind: "table of site conditions",
      known: ["sample_id", "site_id", "condition", "stratum", "note"],
      required: ["condition"],
      extra: "ignored",
      key: ["sample_id", "site_id"],
    },
    findings,
    (record) => {
      const condition = record.text("condition").toLowerCase();
      if (condition === "") {
        record.fault("condition", {
          code: "missing-condition",
          message: `${quoted(record.key)} has no condition`,
        });
        return;
      }
      const of = record.keyColumn === "sample_id" ? "sample" : "site";
      const known = (of === "sample" ? samples : sites).get(record.key);
      const stratum = record.text("stratum");
      if (known === undefined) {
        const entry: SiteCondition = { of, id: record.key, condition, stratum, line: record.line };
        (of === "sample" ? samples : sites).set(record.key, entry);
        return;
      }
      const isSame = known.condition === condition && known.stratum === stratum;
      const message = `${quoted(record.key)} stands in line ${known.line} already`;
      record.fault(
        record.keyColumn,
        isSame
          ? { code: "repeated-value", message: `${message}, with the same condition` }
          : { code: "conflicting-values", message: `${message}, with another condition or stratum` },
      );
    },
  );
  const hasKey = read.columns.at.has("sample_id") || read.columns.at.has("site_id");
  if (!hasKey && read.columns.isUsable) {
    findings.add(
      finding(
        "missing-column",
        { file: read.place, line: read.headerLine, column: 0 },
        { message: "there is neither a column site_id nor a column sample_id" },
      ),
    );
  }
  return {
    samples,
    sites,
    refused: read.spoilt,
    unreadable: read.unreadable || !hasKey,
    file: read.place,
    digest: read.digest,
  };
}

import type { Finding, Place } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import type { LifeStage } from "../model/life-stage.ts";
import type { NameWarning, Resolution } from "./resolution.ts";

const WARNING_CODES: Readonly<Record<NameWarning["kind"], FindingCode>> = {
  ambiguous: "ambiguous-name",
  "in-part": "in-part-name",
  uncertain: "uncertain-name",
};

/** Where a name stands. */
export interface NamePlace {
  /** The field that holds the name. */
  readonly place: Place;
  readonly sampleId: string;
  /** The row's own life stage; `unknown` when the sheet does not say. */
  readonly stage?: LifeStage | undefined;
}

/** Everything there is to say about one name on a sheet, in a fixed order; nothing for a name found as it is. */
export function nameFindings(asWritten: string, resolution: Resolution, at: NamePlace): Finding[] {
  const say = (code: FindingCode, message: string) =>
    finding(code, at.place, { message, sampleId: at.sampleId });
  if (resolution.kind === "unknown") {
    const { place, sampleId } = at;
    const message = unknownMessage(asWritten, resolution);
    return [finding("unknown-taxon", place, { message, sampleId, hint: unknownHint(asWritten, resolution) })];
  }
  const findings: Finding[] = [];
  const { warning, stage, via } = resolution;
  if (warning !== undefined) findings.push(say(WARNING_CODES[warning.kind], warning.text));
  if (resolution.kind === "operational") {
    const { name, parent } = resolution.operational;
    const which = name === asWritten ? `"${name}"` : `"${asWritten}" (${name})`;
    findings.push(say("operational-taxon", `${which} is a taxon of its own under ${parent}`));
  } else if (via === "synonym" && warning?.kind !== "ambiguous" && warning?.kind !== "in-part") {
    const why = resolution.reason === undefined ? "" : `: ${resolution.reason}`;
    findings.push(say("renamed-taxon", `"${asWritten}" is taken as ${resolution.taxon}${why}`));
  }
  const column = at.stage ?? "unknown";
  if (stage !== undefined && stage !== "unknown" && column !== "unknown" && !sameStage(stage, column)) {
    findings.push(
      say("stage-mismatch", `"${asWritten}" says ${stage}, the life_stage column says ${column}`),
    );
  }
  return findings;
}

/** The message of an unknown name: close names, or the taxon that its first words name. */
export function unknownMessage(
  asWritten: string,
  unknown: Resolution & { readonly kind: "unknown" },
): string {
  const { suggestions, within } = unknown;
  const close = suggestions.length === 0 ? "" : `; close names: ${suggestions.join(", ")}`;
  const known = within === undefined ? "" : `; ${within} is known, the rest of the name is not listed`;
  return `"${asWritten}" is no known taxon${close}${known}`;
}

/** A species that the tree does not list may be kept as one; undefined where the usual hint says it all. */
export function unknownHint(
  asWritten: string,
  { suggestions, within }: Resolution & { readonly kind: "unknown" },
): string | undefined {
  const isSpecies = within !== undefined && /^[A-Z][a-z]+ [a-z-]+$/u.test(asWritten);
  if (!isSpecies || suggestions.length > 0) return undefined;
  return `decide it once in names.csv: accepted name ${within}, or ${asWritten} again to keep it as a species of its own`;
}

/** Larva and nymph are two words for one thing. */
function sameStage(a: LifeStage, b: LifeStage): boolean {
  const young = (stage: LifeStage) => (stage === "nymph" ? "larva" : stage);
  return young(a) === young(b);
}

import type { Finding } from "../findings/finding.ts";

/** Findings that say the same of several places; the first stands for all. */
export interface FindingGroup {
  readonly first: Finding;
  readonly count: number;
  /** Where else it holds, to be put behind the message; empty for a finding that stands alone. */
  readonly elsewhere: string;
}

/** So many other places are named; the findings file has every one. */
const NAMED = 5;

/**
 * Puts findings of one file together that say the same, be it of other rows or of other samples: a name misspelt
 * all down a column is one thing to put right. The groups stand where their first finding stood.
 */
export function groupFindings(findings: readonly Finding[]): FindingGroup[] {
  const groups = new Map<string, Finding[]>();
  for (const finding of findings) {
    const { file, severity, code } = finding;
    const key = JSON.stringify([file, severity, code, general(finding, "message"), general(finding, "hint")]);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [finding]);
    else group.push(finding);
  }
  const grouped = [...groups.values()].flatMap((group) => {
    const [first] = group;
    return first === undefined ? [] : [{ first, count: group.length, elsewhere: elsewhere(first, group) }];
  });
  return joinAtPlaces(grouped);
}

/** So many findings at one place that begin alike are put together. */
const MANY = 4;

/** Many things of one kind at one place, such as all taxa that a list lacks, stand in one line. */
function joinAtPlaces(groups: readonly FindingGroup[]): FindingGroup[] {
  const places = new Map<string, FindingGroup[]>();
  for (const group of groups) {
    const { file, line, column, severity, code, message, hint } = group.first;
    const key = JSON.stringify([file, line, column, severity, code, hint, beginning(message)]);
    const at = places.get(key);
    if (at === undefined) places.set(key, [group]);
    else at.push(group);
  }
  return [...places.values()].flatMap((at) => {
    const [lead] = at;
    const isList =
      at.length >= MANY &&
      at.every(({ first, elsewhere: more }) => more === "" && beginning(first.message) !== "");
    if (lead === undefined || !isList) return at;
    const others = at.slice(1).map(({ first }) => first.message.slice(beginning(first.message).length));
    const count = at.reduce((sum, group) => sum + group.count, 0);
    return [{ first: lead.first, count, elsewhere: `, ${some(others)}` }];
  });
}

/** "tolerance of " of "tolerance of Baetis"; empty for a message of another form. */
function beginning(message: string): string {
  return /^\w+ of (?=[^,;:]{1,60}$)/.exec(message)?.[0] ?? "";
}

/** A text without the sample that it names. */
function general(finding: Finding, part: "message" | "hint"): string {
  const { sampleId } = finding;
  const text = finding[part];
  let general = "";
  let end = 0;
  for (const at of placesOf(sampleId, text)) {
    general += `${text.slice(end, at)}\0`;
    end = at + sampleId.length;
  }
  return general + text.slice(end);
}

const IN_WORD_BEFORE = /[\p{L}\p{N}_-]$/u;
const IN_WORD_BEHIND = /^[\p{L}\p{N}_-]/u;

/**
 * Where a sample id stands for itself in a text: "1" is a part of "12" and "A" of "Abedus". It is searched for as
 * it is, since an id may be longer than any pattern.
 */
function placesOf(sampleId: string, text: string): number[] {
  const places: number[] = [];
  if (sampleId === "") return places;
  for (let at = text.indexOf(sampleId); at >= 0; at = text.indexOf(sampleId, at)) {
    const end = at + sampleId.length;
    // Two units hold any one character.
    const isPart =
      IN_WORD_BEFORE.test(text.slice(Math.max(0, at - 2), at)) ||
      IN_WORD_BEHIND.test(text.slice(end, end + 2));
    if (!isPart) places.push(at);
    at = isPart ? at + 1 : end;
  }
  return places;
}

function elsewhere(first: Finding, group: readonly Finding[]): string {
  const namesSample = placesOf(first.sampleId, first.message).length > 0;
  if (namesSample) {
    const samples = [...new Set(group.map((finding) => finding.sampleId))].slice(1);
    if (samples.length > 0) return `; the same for ${some(samples)}`;
  }
  const lines = [...new Set(group.map((finding) => finding.line))].filter((line) => line > first.line);
  if (lines.length > 0) return `; also in line ${some(lines.map(String))}`;
  return group.length === 1 ? "" : `; ${group.length} times`;
}

function some(names: readonly string[]): string {
  if (names.length <= NAMED + 1) {
    const last = names.at(-1) ?? "";
    return names.length === 1 ? last : `${names.slice(0, -1).join(", ")} and ${last}`;
  }
  return `${names.slice(0, NAMED).join(", ")} and ${names.length - NAMED} more`;
}

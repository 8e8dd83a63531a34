import { at } from "../model/at.ts";
import type { Exact } from "../model/exact.ts";
import { compareCodePoints } from "../model/order.ts";
import type { RandomStream } from "../subsample/stream.ts";
import { shareOf } from "./share.ts";

/** Name and version of the way samples are chosen; a change of what it chooses is a new version. */
export const CHOICE_ALGORITHM = "recheck-choice/1";

/** A sample that may be re-checked. */
export interface ChoiceCandidate {
  readonly sampleId: string;
  /** Sorter, lot or taxonomist by whom samples are grouped; empty when not known or not grouped. */
  readonly group: string;
  /** True for the work of a trainee, all of which is re-checked. */
  readonly trainee: boolean;
}

export interface ChoiceRules {
  /** Share of each group, above 0 up to 1; rounded up, so that every group has at least one. */
  readonly share: Exact;
  /** 1 for the first share, 2 for the second (when the first failed), and so on. */
  readonly round: number;
  /** Samples that have been checked before, whoever chose them. */
  readonly checked: ReadonlySet<string>;
  /** The random stream of a group; it must depend on the seed and the name of the group only. */
  readonly stream: (group: string) => RandomStream;
}

export interface ChosenSample {
  readonly sampleId: string;
  readonly group: string;
  readonly reason: "share" | "trainee";
}

export interface GroupChoice {
  readonly group: string;
  readonly candidates: number;
  readonly trainees: number;
  /** Samples the share asks for, trainees aside. */
  readonly asked: number;
  /** In code point order of the sample ids. */
  readonly chosen: readonly ChosenSample[];
  /** True when fewer were left than the share asks for. */
  readonly isExhausted: boolean;
}

/**
 * Chooses the samples that a second person checks: a share of each group, rounded up (Barbour et al. 1999, EPA
 * 841-B-99-002, 7.3: 10 percent of each lot and a second 10 percent when one fails; rounding up is common
 * practice, no source), and all the work of trainees, which does not count towards the share.
 *
 * Each group is put into one random order that only its own samples, the seed and its name decide. The first
 * round takes from the front, the second goes on where the first stopped: no sample twice, and the same samples
 * again when asked again.
 *
 * @throws RangeError when a sample stands among the candidates twice or the round is not 1 or more
 */
export function chooseSamples(candidates: readonly ChoiceCandidate[], rules: ChoiceRules): GroupChoice[] {
  if (!Number.isSafeInteger(rules.round) || rules.round < 1)
    throw new RangeError(`not a round: ${rules.round}`);
  const groups = new Map<string, ChoiceCandidate[]>();
  const seen = new Set<string>();
  for (const candidate of candidates) {
    if (seen.has(candidate.sampleId))
      throw new RangeError(`sample "${candidate.sampleId}" stands among the candidates twice`);
    seen.add(candidate.sampleId);
    const group = groups.get(candidate.group);
    if (group === undefined) groups.set(candidate.group, [candidate]);
    else group.push(candidate);
  }
  return [...groups]
    .sort(([a], [b]) => Number(a === "") - Number(b === "") || compareCodePoints(a, b))
    .map(([group, members]) => chooseFromGroup(group, members, rules));
}

function chooseFromGroup(
  group: string,
  members: readonly ChoiceCandidate[],
  rules: ChoiceRules,
): GroupChoice {
  const trainees = members.filter(({ trainee }) => trainee);
  const others = members
    .filter(({ trainee }) => !trainee)
    .map(({ sampleId }) => sampleId)
    .sort(compareCodePoints);
  const asked = others.length === 0 ? 0 : shareOf(rules.share, others.length);
  shuffle(others, rules.stream(group));
  const byShare = others
    .slice((rules.round - 1) * asked)
    .filter((id) => !rules.checked.has(id))
    .slice(0, asked);
  const byTrainee =
    rules.round > 1 ? [] : trainees.map(({ sampleId }) => sampleId).filter((id) => !rules.checked.has(id));
  const chosen = [
    ...byShare.map((sampleId) => ({ sampleId, group, reason: "share" as const })),
    ...byTrainee.map((sampleId) => ({ sampleId, group, reason: "trainee" as const })),
  ].sort((a, b) => compareCodePoints(a.sampleId, b.sampleId));
  return {
    group,
    candidates: members.length,
    trainees: trainees.length,
    asked,
    chosen,
    isExhausted: byShare.length < asked,
  };
}

/** Fisher and Yates: every order is equally likely when the stream is fair. */
function shuffle(ids: string[], stream: RandomStream): void {
  for (let last = ids.length - 1; last > 0; last--) {
    const other = stream.below(last + 1);
    const moved = at(ids, last);
    ids[last] = at(ids, other);
    ids[other] = moved;
  }
}

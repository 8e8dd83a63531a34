import {
  DEFAULT_CONFIDENCE,
  DEFAULT_INTERVAL,
  FIELD_LINKS,
  type FieldLinks,
  INTERVAL_KINDS,
  type IntervalKind,
  MOST_RESAMPLES,
  type ResamplingPlan,
  resamplingPlan,
} from "../../scoring/intervals/plan.ts";
import type { OptionValues } from "../define.ts";
import { defineOption, UsageError } from "../define.ts";
import { parseWholeNumber } from "./messages.ts";

export const resamplesOption = defineOption<number>({
  flags: "--resamples <n>",
  summary:
    "Resamples of each sample, for an interval of the index and of every metric and for the support of the rating: 1000 are usual. They say what another count of the same jar might give.",
  group: "Method",
  defaultText: "none",
  parse: (word) => {
    const resamples = parseWholeNumber(word);
    if (resamples < 1 || resamples > MOST_RESAMPLES)
      throw new UsageError(`--resamples takes a number from 1 to ${MOST_RESAMPLES}`);
    return resamples;
  },
});

export const confidenceOption = defineOption<number>({
  flags: "--confidence <share>",
  summary: "Share of intervals that are to hold what they are about, with --resamples.",
  group: "Method",
  defaultText: DEFAULT_CONFIDENCE.toFixed(2),
  parse: (word) => {
    const share = shareOf(word);
    if (share === undefined || share <= 0 || share >= 1)
      throw new UsageError(`"${word}" is not a confidence: a share above 0 and below 1, for instance 0.90`);
    return share;
  },
});

export const intervalOption = defineOption<IntervalKind>({
  flags: "--interval <kind>",
  summary:
    "What intervals are about, with --resamples: 'mean' is the mean over all possible fixed-count draws from this jar (not the index of the whole jar, which a fixed count does not estimate); 'another-draw' is another draw from it, as if the jar were counted again.",
  group: "Method",
  choices: () => INTERVAL_KINDS,
  defaultText: DEFAULT_INTERVAL,
  parse: (word) => INTERVAL_KINDS.find((kind) => kind === word) ?? DEFAULT_INTERVAL,
});

export const supportLimitOption = defineOption<number>({
  flags: "--support-limit <share>",
  summary:
    "Flags a sample as near-class-limit when a smaller share of its resamples has its rating, with --resamples; for instance 0.8.",
  group: "Method",
  defaultText: "none",
  parse: (word) => {
    const share = shareOf(word);
    if (share === undefined || share > 1)
      throw new UsageError(`"${word}" is not a share from 0 to 1, for instance 0.8`);
    return share;
  },
});

export const fieldOption = defineOption<FieldLinks>({
  flags: "--field <column>",
  summary:
    "Adds the field to the intervals, with --resamples: what samples of one place and visit differ by beyond subsampling, from those of this batch that the column of the sample log joins.",
  group: "Method",
  choices: () => FIELD_LINKS,
  defaultText: "none: subsampling only",
  parse: (word) => FIELD_LINKS.find((links) => links === word) ?? "none",
});

/** Options of a command that gives intervals. */
export const INTERVAL_OPTIONS = [
  resamplesOption,
  confidenceOption,
  intervalOption,
  supportLimitOption,
  fieldOption,
] as const;

/**
 * The plan that the options give; undefined without --resamples.
 *
 * @throws UsageError when one of the others is given without it
 */
export function resamplingOf(options: OptionValues): ResamplingPlan | undefined {
  const resamples = options.get(resamplesOption);
  if (resamples === undefined) {
    for (const option of INTERVAL_OPTIONS) {
      if (!options.isGiven(option)) continue;
      throw new UsageError(
        `${option.flags.split(" ")[0]} says how resamples are used and needs --resamples`,
        "for instance --resamples 1000",
      );
    }
    return undefined;
  }
  const confidence = options.get(confidenceOption);
  const interval = options.get(intervalOption);
  const field = options.get(fieldOption);
  return resamplingPlan({
    resamples,
    supportLimit: options.get(supportLimitOption),
    ...(confidence === undefined ? {} : { confidence }),
    ...(interval === undefined ? {} : { interval }),
    ...(field === undefined ? {} : { field }),
  });
}

function shareOf(word: string): number | undefined {
  return /^(0|1)(\.[0-9]{1,9})?$/.test(word) ? Number(word) : undefined;
}

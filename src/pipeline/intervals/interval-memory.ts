import type { ScoreInterval } from "../result.ts";

/** So many intervals are remembered, of some hundred bytes each; those of a larger batch are worked out again. */
const MOST_REMEMBERED = 1 << 12;

/**
 * The intervals of a batch that is worked out twice, once for a run folder and once for what is printed: resampling
 * takes nearly all the time of both, and gives the same for the same sample.
 */
export class IntervalMemory {
  readonly #bySample = new Map<string, ScoreInterval>();

  /** Samples whose intervals are known. */
  get size(): number {
    return this.#bySample.size;
  }

  keep(sampleId: string, interval: ScoreInterval): void {
    if (this.#bySample.size < MOST_REMEMBERED) this.#bySample.set(sampleId, interval);
  }

  /** Undefined for a sample that has none, or of which none was kept. */
  of(sampleId: string): ScoreInterval | undefined {
    return this.#bySample.get(sampleId);
  }
}

import { darwinCore } from "./darwin-core.ts";
import type { ExchangeFormat } from "./define.ts";
import type { ExchangeId } from "./ids.ts";
import { waterQualityExchange } from "./water-quality-exchange.ts";

const EXCHANGES: Readonly<Record<ExchangeId, ExchangeFormat>> = {
  "darwin-core": darwinCore,
  "water-quality-exchange": waterQualityExchange,
};

/** The exchange format of an id. */
export function findExchange(id: ExchangeId): ExchangeFormat {
  return EXCHANGES[id];
}

/** Every exchange format, as users name it; apart from the formats themselves so that help stays light. */
export const EXCHANGE_IDS = ["darwin-core", "water-quality-exchange"] as const;
export type ExchangeId = (typeof EXCHANGE_IDS)[number];

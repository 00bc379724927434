/** How much the newest visit's probability counts against the one before. */
const newestShare = 0.7;

/**
 * Wear score of a visit from its own probability of meeting the limit within a year and that of the
 * visit before, raised to the fleet's power. `scoreOf(0.5, 0.1)` is 0.5^0.7 0.1^0.3.
 */
export const scoreOf = (now: number | null, before: number | null, power = 1): number | null =>
  now === null ? null : (now ** newestShare * (before ?? now) ** (1 - newestShare)) ** power;

/** Why somebody stands a unit down by hand; readings and bulletins have causes of their own. */
export const handCauses = [
  'hard pedal on the road',
  'oil at the booster',
  'belt off',
  'other',
] as const;
export type HandCause = (typeof handCauses)[number];

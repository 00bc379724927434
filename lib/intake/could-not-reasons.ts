/** Reasons a measurement could not be made; the bay card offers these and no free text. */
export const couldNotReasons = [
  'no gauge here',
  'engine would not run',
  'line would not come off',
  'no room to reach it',
  'ran out of time',
  'other',
] as const;

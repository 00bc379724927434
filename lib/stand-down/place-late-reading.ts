/** A spell that has ended, with the finish of its work. */
export interface EndedSpell {
  readonly spellId: string;
  readonly openedAt: Date;
  readonly repairedAt: Date;
  readonly releasedAt: Date;
}

/**
 * Where a reading past a stop limit belongs that reaches the record late. Read before the repair of
 * an ended spell was finished, it tells of the fault that was mended and joins that spell as evidence
 * to acknowledge; read after it, or with no such spell, it speaks of the unit as it is and opens one.
 *
 * @example read on day 3, spell from day 2, repaired on day 4: joins that spell
 */
export function placeLateReading(
  readAt: Date,
  ended: readonly EndedSpell[],
): { readonly joins: string } | 'opens a spell' {
  const newest = ended.reduce<EndedSpell | null>(
    (last, spell) => (last && last.releasedAt >= spell.releasedAt ? last : spell),
    null,
  );
  return newest && readAt < newest.repairedAt ? { joins: newest.spellId } : 'opens a spell';
}

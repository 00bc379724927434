import { and, eq, gte, isNull, lt, lte, or } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { Kilometres } from '@/lib/measure';
import { roadTestAllowance } from '@/lib/stand-down/driven-while-out';
import type { Tx } from '../client';
import { appendToLedger } from '../ledger';
import { drivenTo, odometersOfSpell, openingDayMs } from '../reads/driven-since';
import { drivenWhileOutOf } from '../reads/driven-while-out';
import type { SpellRow } from '../reads/facts-of-spells';
import { type reading, spell } from '../schema';

interface Seen {
  /** `reading`, `work order 1042`. */
  readonly seenBy: string;
  readonly actor: Actor;
  readonly now: Date;
}

interface NoteDriving extends Seen {
  readonly unitId: string;
  /** The odometer just seen. */
  readonly odometer: Kilometres | null;
  readonly seenAt: Date;
}

/** Leaves an entry when a unit that is out of service shows more distance than its road tests. */
export async function noteDriving(
  tx: Tx,
  { unitId, odometer, seenAt, ...seen }: NoteDriving,
): Promise<void> {
  const [row] = await tx
    .select()
    .from(spell)
    .where(
      and(
        eq(spell.unitId, unitId),
        lt(spell.openedAt, seenAt),
        or(isNull(spell.releasedAt), gte(spell.releasedAt, seenAt)),
      ),
    );
  if (row) await raise(tx, row, [odometer], seen);
}

interface NoteAmendedDriving extends Omit<Seen, 'seenBy'> {
  readonly of: typeof reading.$inferSelect;
  readonly odometer: Kilometres;
}

/**
 * The same for an odometer that was amended: read in a spell, it tells for itself; where a spell is
 * counted from it, the newest odometer of that spell tells.
 */
export async function noteAmendedDriving(
  tx: Tx,
  { of, odometer, ...seen }: NoteAmendedDriving,
): Promise<void> {
  const rows = await tx
    .select()
    .from(spell)
    .where(
      and(
        eq(spell.unitId, of.unitId),
        lte(spell.openedAt, new Date(of.readAt.getTime() + openingDayMs)),
        or(isNull(spell.releasedAt), gte(spell.releasedAt, of.readAt)),
      ),
    );
  for (const row of rows) {
    const { newest } = await odometersOfSpell(tx, row);
    const own = of.readAt > row.openedAt ? odometer : null;
    await raise(tx, row, [own, newest], { ...seen, seenBy: 'amended reading' });
  }
}

/** One entry for each distance that no entry of the spell tells yet, to one road test's allowance. */
async function raise(
  tx: Tx,
  row: SpellRow,
  odometers: readonly (Kilometres | null)[],
  { seenBy, actor, now }: Seen,
): Promise<void> {
  const ofSpell = await odometersOfSpell(tx, row);
  const told = ((await drivenWhileOutOf(tx, [row])).get(row.id) ?? []).map(
    ({ kilometres }) => kilometres,
  );
  for (const odometer of odometers) {
    const driven = drivenTo(ofSpell, odometer);
    if (driven === null || told.some((one) => Math.abs(one - driven) <= roadTestAllowance))
      continue;
    told.push(driven);
    await appendToLedger(tx, {
      kind: 'driven while out of service',
      actor,
      now,
      unitId: row.unitId,
      payload: { spellId: row.id, kilometres: driven, seenBy },
    });
  }
}

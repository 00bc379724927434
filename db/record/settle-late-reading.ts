import { and, eq, gt } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import { assessUnit } from '@/lib/analysis/assess-unit';
import { defaultFleetPrior } from '@/lib/analysis/fleet-prior';
import { dayFromIso } from '@/lib/calendar';
import { placeLateReading } from '@/lib/stand-down/place-late-reading';
import { workFinishedAt } from '@/lib/stand-down/spell-standing';
import type { Tx } from '../client';
import { appendToLedger } from '../ledger';
import { factsOfSpells, type SpellRow } from '../reads/facts-of-spells';
import { limitsInForce } from '../reads/limits-in-force';
import { readingOfRow } from '../reads/readings-of-units';
import { type reading, shed, spell } from '../schema';
import { openSpell } from './open-spell';

interface LateReading {
  readonly row: typeof reading.$inferSelect;
  readonly actor: Actor;
  readonly now: Date;
}

/**
 * A reading that was read before a release and reached the record after it. Past a stop limit, it joins
 * the ended spell as evidence where its repair came later, and opens a spell where it did not. The
 * unit is locked already.
 */
export async function settleLateReading(tx: Tx, { row, actor, now }: LateReading): Promise<void> {
  const ended = await tx
    .select()
    .from(spell)
    .where(and(eq(spell.unitId, row.unitId), gt(spell.releasedAt, row.readAt)));
  const why = ended.length > 0 ? await stopPassed(tx, row) : null;
  if (why === null) return;
  const place = placeLateReading(row.readAt, await repairsOf(tx, ended));
  const joined = place === 'opens a spell' ? null : ended.find(({ id }) => id === place.joins);
  if (!joined) {
    await openSpell(tx, {
      unitId: row.unitId,
      cause: 'reading past a stop limit',
      why,
      note: 'This reading reached the record late.',
      openedBy: actor,
      readingId: row.id,
      wasWarned: false,
      now,
    });
    return;
  }
  await tx
    .update(spell)
    .set({ evidence: [...joined.evidence, { readingId: row.id, acknowledgedBy: null }] })
    .where(eq(spell.id, joined.id));
  await appendToLedger(tx, {
    kind: 'late reading joined a spell',
    actor,
    now,
    deviceAt: row.readAt,
    unitId: row.unitId,
    payload: { spellId: joined.id, readingId: row.id, why },
  });
}

async function repairsOf(tx: Tx, ended: readonly SpellRow[]) {
  return (await factsOfSpells(tx, ended)).flatMap(({ row, facts }) => {
    const repairedAt = workFinishedAt(facts) ?? row.certifiedAt;
    if (!row.releasedAt || !repairedAt) return [];
    return [{ spellId: row.id, openedAt: row.openedAt, repairedAt, releasedAt: row.releasedAt }];
  });
}

/** The stop limit that the reading passes on its own, in words; null when it passes none. */
async function stopPassed(tx: Tx, row: LateReading['row']): Promise<string | null> {
  const [place] = await tx.select().from(shed).where(eq(shed.id, row.shedId));
  const asOf = dayFromIso(row.readOn) ?? 0;
  const { reasons } = assessUnit({
    unit: { unit: row.unitId, elevation: place?.elevationM ?? 0, builtOn: null, trackedFrom: asOf },
    readings: [readingOfRow(row)],
    fitments: [],
    limits: await limitsInForce(tx, asOf),
    prior: defaultFleetPrior,
    asOf,
    isForecastCharted: false,
  });
  return reasons.find(({ mark }) => mark === 'Out of service')?.text ?? null;
}

import { and, asc, eq, getTableColumns, isNull } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { Kilometres } from '@/lib/measure';
import { type Block, blocksReturn } from '@/lib/stand-down/blocks-return';
import {
  type CertificateStanding,
  certificateStanding,
  type ProofStanding,
  proofStanding,
} from '@/lib/stand-down/spell-standing';
import type { Db, Tx } from '../client';
import { reading, spell, unit } from '../schema';
import { drivenSince } from './driven-while-out';
import { factsOfSpells, type SpellOnRecord } from './facts-of-spells';
import { type PersonNamed, peopleById } from './people-by-id';
import { unitsSeenBy } from './units-seen-by';

export interface OpenSpell extends SpellOnRecord {
  readonly blocks: readonly Block[];
  readonly certificate: CertificateStanding;
  readonly proof: ProofStanding;
  /** Order of entry of the reading that opened it. */
  readonly openingEntry: number | null;
  /** Distance since it went out, beyond one road test: somebody drove it. */
  readonly drivenKm: Kilometres | null;
  readonly people: ReadonlyMap<string, PersonNamed>;
}

/** Every unit out of service that the actor may see, longest out first. */
export async function openSpells(
  db: Db | Tx,
  actor: Actor,
  unitId?: string,
): Promise<readonly OpenSpell[]> {
  const found = await db
    .select({ row: getTableColumns(spell), openingEntry: reading.entry })
    .from(spell)
    .innerJoin(unit, eq(unit.id, spell.unitId))
    .leftJoin(reading, eq(reading.id, spell.readingId))
    .where(
      and(
        isNull(spell.releasedAt),
        unitsSeenBy(actor),
        unitId === undefined ? undefined : eq(unit.id, unitId),
      ),
    )
    .orderBy(asc(spell.openedAt), asc(spell.unitId));
  const spells = await factsOfSpells(
    db,
    found.map(({ row }) => row),
  );
  const people = await peopleById(
    db,
    spells.flatMap(({ row, facts }) => [
      row.openedBy,
      row.tagHungBy,
      row.certifiedBy,
      ...facts.readings.map(({ readBy }) => readBy),
    ]),
  );
  return Promise.all(
    spells.map(async (one) => ({
      ...one,
      blocks: blocksReturn(one.facts),
      certificate: certificateStanding(one.facts),
      proof: proofStanding(one.facts),
      openingEntry: found.find(({ row }) => row.id === one.row.id)?.openingEntry ?? null,
      drivenKm: await drivenSince(db, one.row, newestOdometer(one)),
      people,
    })),
  );
}

function newestOdometer({ facts }: SpellOnRecord): Kilometres | null {
  const seen = facts.readings.flatMap(({ measured }) => measured.odometer ?? []);
  return seen.at(-1) ?? null;
}

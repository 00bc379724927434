import { and, asc, eq, getTableColumns, isNull } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import { type Block, blocksReturn } from '@/lib/stand-down/blocks-return';
import {
  type CertificateStanding,
  certificateStanding,
  type ProofStanding,
  proofStanding,
} from '@/lib/stand-down/spell-standing';
import type { Db, Tx } from '../client';
import { bulletin, reading, spell, unit } from '../schema';
import { type DrivenOut, drivenWhileOutOf } from './driven-while-out';
import { factsOfSpells, type SpellOnRecord } from './facts-of-spells';
import { type PersonNamed, peopleById } from './people-by-id';
import { unitsSeenBy } from './units-seen-by';

export interface OpenSpell extends SpellOnRecord {
  readonly blocks: readonly Block[];
  readonly certificate: CertificateStanding;
  readonly proof: ProofStanding;
  /** Order of entry of the reading that opened it. */
  readonly openingEntry: number | null;
  /** Number of the bulletin that opened it. */
  readonly bulletinNumber: string | null;
  /** Each sign that somebody drove it while it was out, oldest first. */
  readonly driven: readonly DrivenOut[];
  readonly people: ReadonlyMap<string, PersonNamed>;
}

/** Every unit out of service that the actor may see, longest out first. */
export async function openSpells(
  db: Db | Tx,
  actor: Actor,
  unitId?: string,
): Promise<readonly OpenSpell[]> {
  const found = await db
    .select({
      row: getTableColumns(spell),
      openingEntry: reading.entry,
      bulletinNumber: bulletin.number,
    })
    .from(spell)
    .innerJoin(unit, eq(unit.id, spell.unitId))
    .leftJoin(reading, eq(reading.id, spell.readingId))
    .leftJoin(bulletin, eq(bulletin.id, spell.bulletinId))
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
  const driven = await drivenWhileOutOf(
    db,
    spells.map(({ row }) => row),
  );
  return spells.map((one) => {
    const opening = found.find(({ row }) => row.id === one.row.id);
    return {
      ...one,
      blocks: blocksReturn(one.facts),
      certificate: certificateStanding(one.facts),
      proof: proofStanding(one.facts),
      openingEntry: opening?.openingEntry ?? null,
      bulletinNumber: opening?.bulletinNumber ?? null,
      driven: driven.get(one.row.id) ?? [],
      people,
    };
  });
}

import { and, eq, inArray } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { BulletinDue, UnitAssessment } from '@/lib/analysis/unit-assessment';
import type { Tx } from '../client';
import { verdict } from '../schema';
import { openSpells, type SpellOpening } from './open-spell';

interface Demanding {
  readonly unitId: string;
  readonly assessment: Pick<UnitAssessment, 'mark' | 'reasons'>;
  readonly hasOpenSpell: boolean;
  readonly bulletinsDue: readonly BulletinDue[];
}

/** What demands that a unit stands still opens the spell itself, whatever anybody does next. */
export async function openDemandedSpells(
  tx: Tx,
  assessed: readonly Demanding[],
  { actor, now }: { readonly actor: Actor | null; readonly now: Date },
): Promise<Map<string, SpellOpening>> {
  const demanding = assessed.filter(
    ({ assessment, hasOpenSpell }) => assessment.mark === 'Out of service' && !hasOpenSpell,
  );
  const before = await marksInForce(
    tx,
    demanding.map(({ unitId }) => unitId),
  );
  const openings = demanding.map((one): SpellOpening => {
    const mark = before.get(one.unitId);
    return {
      unitId: one.unitId,
      ...demandOf(one),
      openedBy: actor,
      wasWarned: mark === 'Book in' || mark === 'Drifting',
      now,
    };
  });
  await openSpells(tx, openings);
  return new Map(openings.map((opening) => [opening.unitId, opening]));
}

type Demand = Pick<SpellOpening, 'cause' | 'why' | 'readingId' | 'bulletinId'>;

/** A bulletin or a reading, whichever the first rule that stops the unit speaks of. */
function demandOf({ assessment, bulletinsDue }: Demanding): Demand {
  const reason = assessment.reasons.find(({ mark }) => mark === 'Out of service');
  const why = reason?.text ?? 'A stop limit is passed.';
  if (reason?.rule === 'do-not-drive bulletin') {
    const demanding = bulletinsDue.find(
      ({ number, isDoNotDrive }) => isDoNotDrive && number === reason.about,
    );
    return { cause: 'do-not-drive bulletin', why, bulletinId: demanding?.bulletinId ?? null };
  }
  return { cause: 'reading past a stop limit', why, readingId: reason?.readingIds[0] ?? null };
}

async function marksInForce(
  tx: Tx,
  unitIds: readonly string[],
): Promise<Map<string, UnitAssessment['mark']>> {
  if (unitIds.length === 0) return new Map();
  const rows = await tx
    .select({ unitId: verdict.unitId, mark: verdict.mark })
    .from(verdict)
    .where(and(inArray(verdict.unitId, [...unitIds]), eq(verdict.isCurrent, true)));
  return new Map(rows.map(({ unitId, mark }) => [unitId, mark]));
}

import { reasonsOf } from '@/lib/analysis/rules';
import type { AssessUnitInput, UnitAssessment } from '@/lib/analysis/unit-assessment';

/**
 * The assessment of a unit out of service once it stands on the board since that day, as `assessUnit`
 * would give it, without following the readings again: the spell is one reason more, and the first.
 *
 * Example: stopped by a bulletin, it is Out of service by the spell and by the bulletin.
 */
export const withOpenSpell = <Told extends Pick<UnitAssessment, 'reasons' | 'asOf'>>(
  assessment: Told,
  { why }: Pick<NonNullable<AssessUnitInput['openSpell']>, 'why'>,
): Told => ({
  ...assessment,
  reasons: [
    ...reasonsOf([{ rule: 'open spell', about: why, on: assessment.asOf }]),
    ...assessment.reasons,
  ],
});

import { Facts } from '@/app/_ui/facts';
import { TextAreaField } from '@/app/_ui/field';
import { moment, pressure, seconds } from '@/app/_ui/format';
import type { SignedInPerson } from '@/db/reads/actor-of-person';
import type { OpenSpell } from '@/db/reads/open-spells';
import { may } from '@/lib/access';
import { proofFailureWords, proofMeasureWords } from '@/lib/stand-down/proof-failures';
import { ActForm } from '../act-form';
import { letClockStand } from './actions';
import { named } from './names';

interface ProofPartProps {
  readonly spell: OpenSpell;
  readonly person: SignedInPerson;
}

/** The newest reading within the spell, held against what a proof needs. */
export function ProofPart({ spell, person }: ProofPartProps) {
  const { facts, blocks, shed, people, proof } = spell;
  const step = blocks.find((block) => block.step === 'proof');
  const newest = facts.readings.at(-1);
  if (!newest) return <p>No reading since the unit went out.</p>;
  const { measured, failures, notMeasured } = newest;
  const unit = person.pressureUnit;
  const isClockAsked =
    proof.is === 'not fit' &&
    proof.why === 'clock not accepted' &&
    may(person, 'release to service', shed.id);
  return (
    <>
      <Facts
        facts={[
          { term: 'Last reading', value: moment(newest.readAt, shed.timeZone) },
          { term: 'Read by', value: named(people, newest.readBy) },
          {
            term: 'Figures',
            value: `${pressure(measured.idle, unit)} idle, ${pressure(measured.lowest, unit)} lowest, ${pressure(measured.holdLoss, unit)} lost in ${seconds(measured.holdTime)}, recovery ${seconds(measured.recovery)}, line ${measured.line}, pedal ${measured.pedal ?? 'not tried'}`,
          },
          {
            term: 'As proof',
            value:
              [
                ...failures.map((failure) => proofFailureWords(failure, unit)),
                ...(notMeasured.length > 0
                  ? [`not measured: ${proofMeasureWords(notMeasured)}`]
                  : []),
              ].join('; ') ||
              step?.what ||
              '',
          },
        ]}
      />
      {isClockAsked && (
        <ActForm
          action={letClockStand}
          hidden={{ unitId: spell.row.unitId, readingId: proof.reading.readingId }}
          button="Let this reading stand"
        >
          <TextAreaField
            id="reason"
            name="reason"
            label={`The device's clock was off by ${Math.round((proof.reading.clockSkew ?? 0) / 60)} minutes. Why the reading may stand`}
            rows={2}
          />
        </ActForm>
      )}
    </>
  );
}

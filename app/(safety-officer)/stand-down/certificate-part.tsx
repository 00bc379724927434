import { SelectField, TextAreaField } from '@/app/_ui/field';
import { moment } from '@/app/_ui/format';
import type { SignedInPerson } from '@/db/reads/actor-of-person';
import type { OpenSpell } from '@/db/reads/open-spells';
import { may } from '@/lib/access';
import { mayCertify } from '@/lib/stand-down/next-steps';
import { type Refusal, refusalWords } from '@/lib/stand-down/refusals';
import { type CertificateKind, certificateKinds } from '@/lib/stand-down/spell-facts';
import { ActForm } from '../act-form';
import { certify } from './actions';
import styles from './board.module.css';
import { named } from './names';

interface CertificatePartProps {
  readonly spell: OpenSpell;
  readonly person: SignedInPerson;
}

const kindWords: Record<CertificateKind, string> = {
  repaired: 'Repaired',
  'repair not necessary': 'Repair not necessary; two sound readings by others follow',
};

export function CertificatePart({ spell, person }: CertificatePartProps) {
  const { row, shed, facts, people, certificate } = spell;
  const isSigned = certificate === 'stands';
  return (
    <section className={isSigned ? `${styles.signature} ${styles.signed}` : styles.signature}>
      <h3>1 · Repair certified</h3>
      {row.certifiedAt && (
        <>
          <p>
            {named(people, row.certifiedBy)}, {moment(row.certifiedAt, shed.timeZone)}:{' '}
            {row.certificate}
          </p>
          {row.certifiedNote && <p>“{row.certifiedNote}”</p>}
        </>
      )}
      {!isSigned && row.certifiedAt && (
        <p>
          <b>{certificate}.</b> Certify again.
        </p>
      )}
      {!isSigned && !row.certifiedAt && (
        <p>Open. A technician of this shed, or one of an outside shop, certifies.</p>
      )}
      {!isSigned && may(person, 'certify a repair', shed.id) && (
        <CertifyForm spell={spell} refusal={refusalOf(facts, person)} />
      )}
    </section>
  );
}

/** What keeps the person from certifying at all, whichever kind is chosen. */
function refusalOf(facts: OpenSpell['facts'], person: SignedInPerson): Refusal | null {
  const asked = mayCertify(facts, person, {
    kind: 'repair not necessary',
    whatWasChecked: 'asked',
  });
  return asked.ok ? null : asked.error;
}

function CertifyForm({
  spell,
  refusal,
}: {
  readonly spell: OpenSpell;
  readonly refusal: Refusal | null;
}) {
  if (refusal) return <p>Not yet. {refusalWords[refusal]}</p>;
  return (
    <ActForm action={certify} hidden={{ unitId: spell.row.unitId }} button="Certify" isMain>
      <SelectField id="kind" name="kind" label="I certify">
        {certificateKinds.map((kind) => (
          <option key={kind} value={kind}>
            {kindWords[kind]}
          </option>
        ))}
      </SelectField>
      <TextAreaField id="note" name="note" label="What was done or checked" />
    </ActForm>
  );
}

import { LinkButton } from '@/app/_ui/button';
import { Facts } from '@/app/_ui/facts';
import { ChoiceField, Field, SelectField, TextAreaField } from '@/app/_ui/field';
import { moment } from '@/app/_ui/format';
import { Panel } from '@/app/_ui/panel';
import { SignalWord } from '@/app/_ui/signal-word';
import type { SignedInPerson } from '@/db/reads/actor-of-person';
import type { LastEntry } from '@/db/reads/last-entry-of-unit';
import type { OpenSpell } from '@/db/reads/open-spells';
import { may } from '@/lib/access';
import { mayRelease } from '@/lib/stand-down/next-steps';
import { odometerSources } from '@/lib/stand-down/odometer-sources';
import { refusalWords } from '@/lib/stand-down/refusals';
import { ActForm } from '../act-form';
import { confirmTag, keepOdometer, release } from './actions';
import styles from './board.module.css';
import { CertificatePart } from './certificate-part';
import { named } from './names';
import { ProofPart } from './proof-part';

interface ReleasePanelProps {
  readonly spell: OpenSpell;
  readonly person: SignedInPerson;
  readonly isSmallShop: boolean;
  readonly lastEntry: LastEntry | null;
  readonly now: Date;
}

export function ReleasePanel({ spell, person, isSmallShop, lastEntry, now }: ReleasePanelProps) {
  const { row, shed, facts, people } = spell;
  const { unitId } = row;
  const releasing = mayRelease(facts, person, {
    now,
    signedInAgainAt: now,
    settings: { isSmallShop },
  });
  return (
    <Panel id="chosen" title={`Unit ${unitId}`}>
      <div className="stack">
        <Facts
          facts={[
            { term: 'Out since', value: moment(row.openedAt, shed.timeZone) },
            { term: 'Shed', value: shed.name },
            { term: 'Cause', value: row.cause },
            {
              term: 'Stop tag',
              value: row.tagHungAt
                ? `hung ${moment(row.tagHungAt, shed.timeZone)}, ${named(people, row.tagHungBy)}`
                : 'not confirmed',
            },
          ]}
        />
        <div className="row no-print">
          <LinkButton href={`/stand-down/${encodeURIComponent(unitId)}/tag`}>
            Print the stop tag
          </LinkButton>
          {facts.orders.map(({ number }) => (
            <LinkButton key={number} href={`/work-orders/${number}`}>
              Work order {number}
            </LinkButton>
          ))}
          {may(person, 'raise a work order', shed.id) && (
            <LinkButton href={`/work-orders/new?unit=${encodeURIComponent(unitId)}`}>
              Raise a work order
            </LinkButton>
          )}
        </div>
        {!row.tagHungAt && may(person, 'stand a unit down') && (
          <ActForm action={confirmTag} hidden={{ unitId }} button="The tag hangs on the wheel" />
        )}
        {may(person, 'stand a unit down') && <OdometerPart spell={spell} />}
        <ProofPart spell={spell} person={person} />
        <CertificatePart spell={spell} person={person} />
        <section className={styles.signature}>
          <h3>2 · Release to service</h3>
          <p>
            Only a safety officer who did not certify the repair
            {isSmallShop ? '. Small shop: who read the proof may release.' : ' or read the proof.'}
          </p>
          {releasing.ok ? (
            <ActForm
              action={release}
              hidden={{ unitId, spellId: row.id }}
              button="Sign in again and release"
              isMain
              isWide
            >
              <TextAreaField
                id="whatWasChecked"
                name="whatWasChecked"
                label="What you checked"
                required
              />
              <ChoiceField
                id="hasSeen"
                name="hasSeen"
                value="yes"
                label="I read the proof reading and saw the tag come off"
              />
              <Field
                id="password"
                name="password"
                type="password"
                label="Your password, again"
                autoComplete="current-password"
                required
              />
            </ActForm>
          ) : (
            <p>
              <b>Not yet.</b> {refusalWords[releasing.error]}
            </p>
          )}
        </section>
        <SignalWord signal="WARNING">
          <p>
            Released with its fault, a unit can lose brake assist: it stops late, and people can
            die. In doubt, leave it out. Service information in force, local law and a licensed
            technician come before anything on this page.
          </p>
        </SignalWord>
        {lastEntry && (
          <p className="fixed">
            entry {lastEntry.entry} · sha-256 {lastEntry.hash}
            <br />
            before {lastEntry.entry - 1} · {lastEntry.previousHash}
          </p>
        )}
      </div>
    </Panel>
  );
}

/** A unit out of service should stand still: its odometer tells, whoever saw it. */
function OdometerPart({ spell }: { readonly spell: OpenSpell }) {
  const { distanceUnit } = spell.shed;
  return (
    <details className="no-print">
      <summary>Odometer seen, or a road test</summary>
      <ActForm
        action={keepOdometer}
        hidden={{ unitId: spell.row.unitId, distanceUnit }}
        button="Keep the odometer"
      >
        <Field
          id="odometer"
          name="odometer"
          label="Odometer"
          inputMode="decimal"
          suffix={distanceUnit}
        />
        <SelectField
          id="seenOn"
          name="seenOn"
          label="Seen"
          hint="A road test may go 5 miles (8 km). More counts as driven while out of service."
        >
          {odometerSources.map((source) => (
            <option key={source} value={source}>
              {source}
            </option>
          ))}
        </SelectField>
      </ActForm>
    </details>
  );
}

import { LinkButton } from '@/app/_ui/button';
import { Field, TextAreaField } from '@/app/_ui/field';
import { Panel } from '@/app/_ui/panel';
import type { SignedInPerson } from '@/db/reads/actor-of-person';
import type { Retention } from '@/db/reads/retention';
import { may } from '@/lib/access';
import { retentionFields } from '@/lib/retention/retention-policy';
import { ActForm } from '../act-form';
import { decidePeriods, proposePeriods } from './actions';
import { Periods } from './periods';

interface RetentionPanelProps {
  readonly retention: Retention;
  readonly person: SignedInPerson;
}

/** How long what is kept, and a change that waits for its second person. */
export function RetentionPanel({ retention, person }: RetentionPanelProps) {
  const { policy, proposed } = retention;
  const isMine = proposed && may(person, 'approve limits') && proposed.by !== person.personId;
  return (
    <Panel title="How long records are kept" id="retention">
      <div className="stack">
        <Periods policy={policy} />
        <p className="mute small">
          49 CFR 396.3(c) has records kept 1 year where a vehicle is housed and 6 months after it
          has left: no period can be shorter. Nothing goes by itself: a safety officer has it
          purged. A unit out of service or with open work keeps all of it.
        </p>
        {may(person, 'purge records') && (
          <div>
            <LinkButton href="/limits/purge">See what is due</LinkButton>
          </div>
        )}
        {proposed && (
          <>
            <p>Proposed, why: {proposed.why}</p>
            <Periods policy={proposed.policy} />
          </>
        )}
        {isMine && (
          <div className="row">
            <ActForm
              action={decidePeriods}
              hidden={{ isApproved: 'yes' }}
              button="Approve the periods"
            />
            <ActForm
              action={decidePeriods}
              hidden={{ isApproved: 'no' }}
              button="Refuse the periods"
            />
          </div>
        )}
        {may(person, 'propose limits') && (
          <ActForm action={proposePeriods} hidden={{}} button="Propose these periods">
            {retentionFields.map(({ name, label }) => (
              <Field
                key={name}
                id={name}
                name={name}
                label={label}
                inputMode="numeric"
                defaultValue={policy[name] ?? ''}
                hint={
                  name === 'monthsAfterLeaving'
                    ? '6 at least.'
                    : 'Empty: as long as the unit is in the fleet.'
                }
              />
            ))}
            <TextAreaField id="why" name="why" label="Why" rows={2} />
          </ActForm>
        )}
      </div>
    </Panel>
  );
}

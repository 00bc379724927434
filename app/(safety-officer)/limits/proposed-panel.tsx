import { Suspense } from 'react';
import { Facts } from '@/app/_ui/facts';
import { Panel } from '@/app/_ui/panel';
import type { SignedInPerson } from '@/db/reads/actor-of-person';
import type { LimitSetOnRecord } from '@/db/reads/limit-sets';
import { may } from '@/lib/access';
import type { Limits } from '@/lib/analysis/limits';
import { ActForm } from '../act-form';
import { decide } from './actions';
import { LimitsTable } from './limits-table';
import { MarkChanges } from './mark-changes';

interface ProposedPanelProps {
  readonly proposed: LimitSetOnRecord;
  readonly inForce: Limits;
  readonly person: SignedInPerson;
}

export function ProposedPanel({ proposed, inForce, person }: ProposedPanelProps) {
  const { version, values, effectiveFrom, source, reason, proposedBy, proposedById } = proposed;
  const units = { pressure: person.pressureUnit, distance: person.distanceUnit };
  const isMine = may(person, 'approve limits') && proposedById !== person.personId;
  const limits = { ...inForce, ...values, version };
  return (
    <Panel title={`Proposed: set ${version}`} id="proposed">
      <div className="stack">
        <Facts
          facts={[
            { term: 'Proposed by', value: proposedBy ?? 'nobody on record' },
            { term: 'Counts from', value: effectiveFrom },
            { term: 'Source', value: source },
            { term: 'Reason', value: reason },
          ]}
        />
        <LimitsTable label="What would change" values={inForce} proposed={limits} units={units} />
        {may(person, 'see units') && (
          <Suspense fallback={<p>Judging the fleet under the proposed set.</p>}>
            <MarkChanges person={person} limits={limits} />
          </Suspense>
        )}
        {isMine ? (
          <div className="row">
            {(['yes', 'no'] as const).map((isApproved) => (
              <ActForm
                key={isApproved}
                action={decide}
                hidden={{ version: String(version), isApproved }}
                button={isApproved === 'yes' ? 'Approve this set' : 'Refuse it'}
                isMain={isApproved === 'yes'}
              />
            ))}
          </div>
        ) : (
          <p>A safety officer who did not propose it decides.</p>
        )}
      </div>
    </Panel>
  );
}

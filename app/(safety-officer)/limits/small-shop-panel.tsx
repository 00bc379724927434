import { Panel } from '@/app/_ui/panel';
import type { SignedInPerson } from '@/db/reads/actor-of-person';
import type { SmallShop } from '@/db/reads/small-shop';
import { may } from '@/lib/access';
import { ActForm } from '../act-form';
import { decideRule } from './actions';

interface SmallShopPanelProps {
  readonly rule: SmallShop;
  readonly person: SignedInPerson;
}

export function SmallShopPanel({ rule, person }: SmallShopPanelProps) {
  const { isOn, proposed } = rule;
  const isMine = proposed && may(person, 'approve limits') && proposed.by !== person.personId;
  return (
    <Panel title="Who releases" id="small-shop">
      <div className="stack">
        <p>
          {isOn
            ? 'Small shop: who read the proof may release. Who certified the repair never does.'
            : 'Three people: who certified, who read the proof, and who releases.'}
        </p>
        {proposed && (
          <p>
            Proposed: {proposed.isOn ? 'the small-shop rule' : 'three people again'}. Why:{' '}
            {proposed.why}
          </p>
        )}
        {isMine && (
          <div className="row">
            <ActForm action={decideRule} hidden={{ isApproved: 'yes' }} button="Approve the rule" />
            <ActForm action={decideRule} hidden={{ isApproved: 'no' }} button="Refuse the rule" />
          </div>
        )}
      </div>
    </Panel>
  );
}

import { Field, TextAreaField } from '@/app/_ui/field';
import { ActForm } from '@/app/(safety-officer)/act-form';
import { type Actor, may } from '@/lib/access';
import type { BulletinKind, BulletinStatus } from '@/lib/bulletins/bulletin-state';
import { refusingRole } from '@/lib/bulletins/bulletin-status';
import { inspectAction, refuseAction } from './actions';

interface StepFormsProps {
  readonly unitId: string;
  readonly bulletinId: string;
  readonly status: BulletinStatus;
  readonly kind: BulletinKind;
  readonly person: Actor;
  readonly shedId: string;
}

/** What this person may record of the bulletin on the unit beside the work itself. */
export function StepForms({ unitId, bulletinId, status, kind, person, shedId }: StepFormsProps) {
  const hidden = { unitId, bulletinId };
  const mayInspect = person.role === 'technician' && may(person, 'work a work order', shedId);
  const mayRefuse = refusingRole[kind] === person.role;
  const isInspectable = status === 'open' || status === 'planned';
  const isRefusable = status === 'open';
  // A form without its button stays, and says what became of the last step.
  return (
    <>
      {mayInspect && (
        <ActForm
          action={inspectAction}
          hidden={hidden}
          button={isInspectable ? 'Record: not needed' : null}
        >
          {isInspectable && (
            <TextAreaField
              id="finding"
              name="finding"
              label="What was seen that makes the work unnecessary"
              maxLength={1000}
            />
          )}
        </ActForm>
      )}
      {mayRefuse && (
        <ActForm
          action={refuseAction}
          hidden={hidden}
          button={isRefusable ? 'Refuse until then' : null}
        >
          {isRefusable && (
            <>
              <TextAreaField id="reason" name="reason" label="Why it is refused" maxLength={1000} />
              <Field id="reviewOn" name="reviewOn" type="date" label="Look at it again on" />
            </>
          )}
        </ActForm>
      )}
    </>
  );
}

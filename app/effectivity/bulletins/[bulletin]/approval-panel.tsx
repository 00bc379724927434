import { Panel } from '@/app/_ui/panel';
import { SignalWord } from '@/app/_ui/signal-word';
import { UnitLinks } from '@/app/_ui/unit-links';
import { ActForm } from '@/app/(safety-officer)/act-form';
import { database } from '@/db/handle';
import type { SignedInPerson } from '@/db/reads/actor-of-person';
import { standDownPreview } from '@/db/reads/stand-down-preview';
import { may } from '@/lib/access';
import { approveAction } from './actions';

interface ApprovalPanelProps {
  readonly bulletinId: string;
  readonly person: SignedInPerson;
  readonly approved: { readonly by: string | null; readonly at: Date } | null;
  readonly enteredBy: string | null;
  readonly isReplaced: boolean;
}

/** Whom the approval would stand down, and the signature of the safety officer. */
export async function ApprovalPanel({
  bulletinId,
  person,
  approved,
  enteredBy,
  isReplaced,
}: ApprovalPanelProps) {
  if (isReplaced) return null;
  const { db } = await database();
  const { standDown, undecided, digest } = await standDownPreview(db, person, bulletinId);
  const mayApprove =
    may(person, 'approve a do-not-drive bulletin') && enteredBy !== person.personId;
  return (
    <Panel
      title={`Do not drive until done: ${approved ? 'approved' : 'not approved'}`}
      id="approval"
    >
      <div className="stack">
        {approved ? (
          <>
            <p>
              Approved by {approved.by ?? 'nobody on record'} on{' '}
              {approved.at.toISOString().slice(0, 10)}. A unit that it is open or planned on is out
              of service; {standDown.length} now.
            </p>
            <UnitLinks units={standDown} />
          </>
        ) : (
          <NotApproved standDown={standDown} undecided={undecided} />
        )}
        {mayApprove ? (
          <ActForm
            action={approveAction}
            hidden={{ bulletinId, seenDigest: digest }}
            button={approved ? null : `Approve and stand ${standDown.length} down`}
            isMain
          />
        ) : (
          !approved && <p>A safety officer who did not enter it approves it.</p>
        )}
      </div>
    </Panel>
  );
}

type NotApprovedProps = Pick<
  Awaited<ReturnType<typeof standDownPreview>>,
  'standDown' | 'undecided'
>;

function NotApproved({ standDown, undecided }: NotApprovedProps) {
  return (
    <>
      <SignalWord signal="WARNING">
        <p>
          Nothing is stood down before a safety officer approves it. Until then stand a unit down by
          hand where it must not be driven.
        </p>
      </SignalWord>
      <p>
        <b>
          {standDown.length === 1
            ? 'This unit would be stood down:'
            : `These ${standDown.length} units would be stood down:`}
        </b>
      </p>
      <UnitLinks units={standDown} />
      {undecided.length > 0 && (
        <>
          <p>
            For {undecided.length} a fact is missing. Each is stood down as soon as the fact says
            that the bulletin applies:
          </p>
          <UnitLinks units={undecided} />
        </>
      )}
    </>
  );
}

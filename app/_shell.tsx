import 'server-only';
import type { ReactNode } from 'react';
import { DemoBanner } from '@/app/_ui/banner';
import type { NavEntry } from '@/app/_ui/nav-links';
import { TopBar } from '@/app/_ui/top-bar';
import type { SignedInPerson } from '@/db/reads/actor-of-person';
import { type Action, permissionOf, type Role } from '@/lib/access';
import { environment } from './_environment';
import { LedgerAlarm } from './_ledger-alarm';
import { signOut } from './sign-in/actions';

const views: readonly (NavEntry & { readonly needs: Action })[] = [
  { href: '/bay', text: 'Bay card', needs: 'record a reading' },
  { href: '/today', text: 'Today', needs: 'plan' },
  { href: '/yard', text: 'Yard', needs: 'see units' },
  { href: '/bay-plan', text: 'Bay plan', needs: 'plan' },
  { href: '/work-orders', text: 'Work orders', needs: 'see units' },
  { href: '/stand-down', text: 'Stand-down', needs: 'see units' },
  { href: '/learn', text: 'Learn', needs: 'plan' },
  { href: '/safety-review', text: 'Safety review', needs: 'approve limits' },
  { href: '/effectivity', text: 'Effectivity', needs: 'see units' },
  { href: '/imports', text: 'Imports', needs: 'import' },
  { href: '/ledger', text: 'Ledger', needs: 'see the ledger' },
  { href: '/limits', text: 'Limits', needs: 'see units' },
  { href: '/people', text: 'People', needs: 'see people' },
  { href: '/sheds', text: 'Sheds', needs: 'change sheds' },
  { href: '/tokens', text: 'API tokens', needs: 'change people' },
];

const firstView: Record<Role, string> = {
  technician: '/bay',
  'fleet manager': '/yard',
  'safety officer': '/stand-down',
  auditor: '/ledger',
  admin: '/people',
};

export const firstViewOf = (role: Role): string => firstView[role];

interface ShellProps {
  readonly person: SignedInPerson;
  /** When the shown verdicts were reached; null where nothing dated is shown. */
  readonly asOf?: string | null;
  readonly children: ReactNode;
}

/** The frame of every signed-in page: where one may go, as whom, as of when. */
export function Shell({ person, asOf = null, children }: ShellProps) {
  const entries = views.filter(({ needs }) => permissionOf(person.role, needs) !== 'no');
  return (
    <>
      <TopBar
        entries={entries}
        asOf={asOf}
        person={person}
        signOut={signOut}
        banner={
          <>
            {environment().isDemo && <DemoBanner />}
            <LedgerAlarm />
          </>
        }
      />
      {children}
    </>
  );
}

import type { ReactNode } from 'react';
import { Link } from '@/app/_ui/link';
import { type NavEntry, NavLinks } from '@/app/_ui/nav-links';
import styles from './top-bar.module.css';

interface TopBarProps {
  readonly entries: readonly NavEntry[];
  /** When the shown verdicts were reached, e.g. "2025-11-25 09:40 UTC"; null where nothing dated is shown. */
  readonly asOf: string | null;
  readonly person: { readonly name: string; readonly role: string };
  readonly signOut: (form: FormData) => void | Promise<void>;
  /** Shown across the page's top, e.g. the demo's banner or a broken ledger. */
  readonly banner?: ReactNode;
}

export function TopBar({ entries, asOf, person, signOut, banner }: TopBarProps) {
  return (
    <header>
      {banner}
      <div className={styles.bar}>
        <b className={styles.name}>Idlemark</b>
        <button type="button" className={styles.open} popoverTarget="views">
          Views
        </button>
        <nav id="views" popover="auto" aria-label="Views" className={styles.nav}>
          <NavLinks entries={entries} />
        </nav>
        <div className={styles.end}>
          {asOf && <span>As of {asOf}</span>}
          <Link href="/account">
            {person.name}, {person.role}
          </Link>
          <form action={signOut} className="no-print">
            <button type="submit" className={styles.signOut}>
              Sign out
            </button>
          </form>
        </div>
      </div>
    </header>
  );
}

import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { Facts } from '@/app/_ui/facts';
import { moment } from '@/app/_ui/format';
import { Link } from '@/app/_ui/link';
import { MarkGlyph } from '@/app/_ui/mark';
import { Page } from '@/app/_ui/page';
import { database } from '@/db/handle';
import { lastEntryOfUnit } from '@/db/reads/last-entry-of-unit';
import { openSpells } from '@/db/reads/open-spells';
import styles from '../../board.module.css';
import { named } from '../../names';

export const metadata: Metadata = { title: 'Stop tag' };

export default async function StopTagPage({ params }: PageProps<'/stand-down/[unit]/tag'>) {
  const unitId = decodeURIComponent((await params).unit);
  const person = await requireSignIn(`/stand-down/${encodeURIComponent(unitId)}/tag`);
  const { db } = await database();
  const [spell] = await openSpells(db, person, unitId);
  if (!spell) notFound();
  const { row, shed, people } = spell;
  const entry = await lastEntryOfUnit(db, person, unitId);
  return (
    <Shell person={person}>
      <Page
        title={<span className="no-print">Stop tag</span>}
        above={
          <Link href={`/stand-down?unit=${encodeURIComponent(unitId)}`} className="no-print">
            Stand-down
          </Link>
        }
        lede={<span className="no-print">Print it with the browser and hang it on the wheel.</span>}
      >
        <section className={styles.tag} aria-label={`Stop tag of unit ${unitId}`}>
          <MarkGlyph mark="Out of service" size={34} />
          <h2>DO NOT DRIVE</h2>
          <p className={styles.number}>{unitId}</p>
          <Facts
            facts={[
              { term: 'Shed', value: shed.name },
              { term: 'Out since', value: moment(row.openedAt, shed.timeZone) },
              { term: 'Why', value: row.why },
              { term: 'Stopped by', value: named(people, row.openedBy) },
            ]}
          />
          <p>
            Brake assist may fail. Stays on the wheel until a safety officer releases the unit on
            record and takes it off.
          </p>
          {entry && (
            <p className="fixed">
              ledger entry {entry.entry} · {entry.hash}
            </p>
          )}
        </section>
      </Page>
    </Shell>
  );
}

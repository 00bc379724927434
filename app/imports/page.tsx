import type { Metadata } from 'next';
import { forbidden } from 'next/navigation';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { DataTable } from '@/app/_ui/data-table';
import { EmptyState } from '@/app/_ui/empty-state';
import { Link } from '@/app/_ui/link';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import { recentImports } from '@/db/imports/keep-file';
import { unitsBeingJudged } from '@/db/imports/rows-in-question';
import { clockOfPerson } from '@/db/reads/clock-of-person';
import { may } from '@/lib/access';
import { isoFromDay, localDay } from '@/lib/calendar';
import styles from './imports.module.css';
import { SendFile } from './send-file';
import { stateWords } from './words';

export const metadata: Metadata = { title: 'Imports' };

export default async function ImportsPage() {
  const person = await requireSignIn('/imports');
  if (!may(person, 'import')) forbidden();
  const { db } = await database();
  const runs = await recentImports(db, person);
  const zone = await clockOfPerson(db, person);
  const judged = await unitsBeingJudged(db);
  return (
    <Shell person={person}>
      <Page
        title="Imports"
        lede={
          judged > 0
            ? `${judged} units are being judged: their marks do not know of the newest import or bulletin yet.`
            : 'Files of units, readings, fitments and work orders. Each import is one entry in the ledger.'
        }
      >
        <div className="stack">
          <Panel title="Send a file">
            <div className={styles.form}>
              <SendFile />
            </div>
            {may(person, 'edit bulletins') && (
              <p>
                <Link href="/effectivity/import">Import bulletins</Link> is a form of its own, since
                a bulletin may take several rows.
              </p>
            )}
          </Panel>
          <Panel title="Imports so far" flush={runs.length > 0}>
            {runs.length === 0 ? (
              <EmptyState>No file was sent yet.</EmptyState>
            ) : (
              <DataTable label="Imports, newest first">
                <thead>
                  <tr>
                    <th scope="col">File</th>
                    <th scope="col">Holds</th>
                    <th scope="col">Sent</th>
                    <th scope="col">State</th>
                    <th scope="col" className="number">
                      On record
                    </th>
                    <th scope="col" className="number">
                      Refused
                    </th>
                  </tr>
                </thead>
                <tbody>
                  {runs.map(({ id, fileName, kind, madeAt, state, counts }) => (
                    <tr key={id}>
                      <th scope="row">
                        <Link href={`/imports/${id}`}>{fileName}</Link>
                      </th>
                      <td>{kind}</td>
                      <td>{isoFromDay(localDay(madeAt, zone))}</td>
                      <td>{stateWords[state]}</td>
                      <td className="number">
                        {state === 'done' && counts ? counts.new + counts.changed : '–'}
                      </td>
                      <td className="number">{counts?.refused ?? '–'}</td>
                    </tr>
                  ))}
                </tbody>
              </DataTable>
            )}
          </Panel>
        </div>
      </Page>
    </Shell>
  );
}

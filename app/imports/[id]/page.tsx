import type { Metadata } from 'next';
import { forbidden, notFound } from 'next/navigation';
import { z } from 'zod';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { Button, DownloadButton } from '@/app/_ui/button';
import { ErrorSummary } from '@/app/_ui/error-summary';
import { Facts } from '@/app/_ui/facts';
import { Link } from '@/app/_ui/link';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { StatusLine } from '@/app/_ui/status-line';
import { database } from '@/db/handle';
import { isBeingPut } from '@/db/imports/being-put';
import { isSilent } from '@/db/imports/check-import';
import { headerOf, UnreadableFile } from '@/db/imports/csv-records';
import { type ImportRun, importRunOf, piecesOf } from '@/db/imports/keep-file';
import { mappingFor } from '@/db/imports/remembered-mapping';
import { may } from '@/lib/access';
import type { Problem } from '@/lib/result';
import { endAction } from '../actions';
import { ColumnChoices } from '../column-choices';
import { ImportForm } from '../import-form';
import { KeepFresh } from '../keep-fresh';
import { stateWords } from '../words';

export const metadata: Metadata = { title: 'Import' };

const amount = (rows: number) => rows.toLocaleString('en-US');

function progressOf({ putProgress }: ImportRun): string {
  if (!putProgress) return 'Being put on record.';
  const { done, total } = putProgress;
  return `Being put on record: ${amount(done)} of ${amount(total)} rows.`;
}

/** The names of the columns, or why they cannot be read with the characters chosen so far. */
async function headerOfRun({ id, mapping }: ImportRun): Promise<readonly string[] | Problem> {
  const { db } = await database();
  try {
    return await headerOf(piecesOf(db, id), mapping?.encoding ?? 'utf-8');
  } catch (error) {
    if (error instanceof UnreadableFile) return error.problem;
    throw error;
  }
}

async function ColumnsPanel({ run }: { readonly run: ImportRun }) {
  const { db } = await database();
  const found = await headerOfRun(run);
  const header = 'message' in found ? [] : found;
  const known = await mappingFor(db, run.kind, header);
  const problems = 'message' in found ? [found] : run.faults;
  return (
    <Panel
      title="Columns"
      aside={known.isRemembered ? 'As they were read the last time' : 'As their names say'}
    >
      <div className="stack">
        <ErrorSummary problems={problems} />
        <ColumnChoices
          importId={run.id}
          kind={run.kind}
          header={header}
          mapping={run.mapping ?? known.mapping}
        />
      </div>
    </Panel>
  );
}

function CountsPanel({
  run,
  isBeingPut,
}: {
  readonly run: ImportRun;
  readonly isBeingPut: boolean;
}) {
  const { counts, id, state } = run;
  if (!counts) return null;
  const facts = [
    { term: 'New', value: amount(counts.new) },
    { term: 'Changed', value: amount(counts.changed) },
    { term: 'On record already', value: amount(counts['on record']) },
    { term: 'Refused', value: amount(counts.refused) },
    { term: 'Odd, to stand as written', value: amount(counts.odd) },
  ];
  const toPut = counts.new + counts.changed;
  return (
    <Panel title={state === 'done' ? 'What became of the rows' : 'What would become of the rows'}>
      <div className="stack">
        <Facts facts={facts} />
        {(counts.refused > 0 || counts.odd > 0) && (
          <div className="row">
            {counts.refused > 0 && (
              <DownloadButton href={`/imports/${id}/refused.csv`}>Refused rows, CSV</DownloadButton>
            )}
            {counts.odd > 0 && (
              <DownloadButton href={`/imports/${id}/odd.csv`}>Odd rows, CSV</DownloadButton>
            )}
          </div>
        )}
        {state === 'checked' && toPut > 0 && !isBeingPut && (
          <ImportForm action={endAction} importId={id}>
            <div>
              <Button type="submit" name="act" value="apply" main>
                Put {amount(toPut)} {toPut === 1 ? 'row' : 'rows'} on record
              </Button>
            </div>
          </ImportForm>
        )}
      </div>
    </Panel>
  );
}

export default async function ImportPage({ params }: PageProps<'/imports/[id]'>) {
  const person = await requireSignIn('/imports');
  if (!may(person, 'import')) forbidden();
  const id = z.uuid().safeParse((await params).id);
  const run = id.success ? await importRunOf((await database()).db, person, id.data) : undefined;
  if (!run) notFound();
  const isHalted = isSilent(run, new Date());
  const isPutting = run.state === 'checked' && (await isBeingPut((await database()).db, run.id));
  const isOpen = !isPutting && (run.state === 'sending' || run.state === 'checked' || isHalted);
  return (
    <Shell person={person}>
      <Page
        title={run.fileName}
        above={<Link href="/imports">Imports</Link>}
        lede={
          run.ledgerEntry === null ? (
            `${run.kind}. ${isPutting ? 'Going on record' : stateWords[run.state]}.${run.state === 'cancelled' ? ' Nothing of it is on record.' : ''}`
          ) : (
            <>
              {run.kind}. On record as{' '}
              <Link href={`/ledger?entry=${run.ledgerEntry}`}>ledger entry {run.ledgerEntry}</Link>.
            </>
          )
        }
      >
        <div className="stack">
          {run.state === 'checking' && (
            <>
              <KeepFresh />
              <StatusLine>
                {amount(run.rowsRead)} rows read
                {isHalted && ', and no more for a minute. Check the file again.'}
              </StatusLine>
            </>
          )}
          {isPutting && (
            <>
              <KeepFresh />
              <StatusLine>{progressOf(run)}</StatusLine>
            </>
          )}
          <CountsPanel run={run} isBeingPut={isPutting} />
          {isOpen && <ColumnsPanel run={run} />}
          {(isOpen || isPutting || run.state === 'checking') && (
            <ImportForm action={endAction} importId={run.id}>
              <div>
                <Button type="submit" name="act" value="cancel">
                  Cancel the import
                </Button>
              </div>
            </ImportForm>
          )}
        </div>
      </Page>
    </Shell>
  );
}

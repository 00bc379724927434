import type { Metadata } from 'next';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { Button, DownloadButton } from '@/app/_ui/button';
import { ErrorSummary } from '@/app/_ui/error-summary';
import { Field, SelectField } from '@/app/_ui/field';
import { Link } from '@/app/_ui/link';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { mostRows } from '@/db/reads/pack-span';
import { requirePermission } from '@/lib/access';
import styles from './auditors-pack.module.css';
import { papers } from './pack-request';
import { halvesOf, problemsOfRefusal } from './refused-pack';

export const metadata: Metadata = { title: "Auditor's pack" };

export default async function AuditorsPackPage({ searchParams }: PageProps<'/auditors-pack'>) {
  const asked = new URLSearchParams(
    Object.entries(await searchParams).flatMap(([name, value]) =>
      typeof value === 'string' ? [[name, value]] : [],
    ),
  );
  const person = await requireSignIn('/auditors-pack');
  requirePermission(person, "make an auditor's pack");
  return (
    <Shell person={person}>
      <Page
        title="Auditor's pack"
        above={<Link href="/ledger">Ledger</Link>}
        lede="Readings, verdicts with their limits, spells and signatures, work, bulletins, and the ledger with its hashes and its check."
      >
        <div className="stack">
          <ErrorSummary problems={problemsOfRefusal(asked)} />
          {asked.get('refused') === 'too long' && <Halves asked={asked} />}
          <Panel>
            <form action="/auditors-pack/pdf" className={`stack ${styles.form}`}>
              <Field
                id="unit"
                name="unit"
                label="Unit"
                hint="As on its tag. Leave it empty for every unit of a period."
                defaultValue={asked.get('unit') ?? undefined}
                autoCapitalize="characters"
              />
              <Field
                id="from"
                name="from"
                type="date"
                label="From (UTC)"
                hint="May stay empty for a unit: then from its first record."
                defaultValue={asked.get('from') ?? undefined}
              />
              <Field
                id="to"
                name="to"
                type="date"
                label="To (UTC), that day included"
                defaultValue={asked.get('to') ?? undefined}
              />
              <SelectField
                id="paper"
                name="paper"
                label="Paper"
                defaultValue={asked.get('paper') ?? undefined}
              >
                {papers.map((paper) => (
                  <option key={paper} value={paper}>
                    {paper}
                  </option>
                ))}
              </SelectField>
              <p className="small mute">
                A pack holds {mostRows.toLocaleString('en-US')} rows at most. A longer one is not
                made: ask for several, each of a shorter period.
              </p>
              <div className="row">
                <Button type="submit" main>
                  Make the PDF
                </Button>
                <Button type="submit" formAction="/auditors-pack/csv">
                  Export CSV
                </Button>
              </div>
            </form>
          </Panel>
        </div>
      </Page>
    </Shell>
  );
}

/** The asked period in two, each a pack to try. */
function Halves({ asked }: { readonly asked: URLSearchParams }) {
  const halves = halvesOf(asked);
  if (halves.length === 0) return null;
  return (
    <Panel title="The same in two packs">
      {halves.map((half) => (
        <div key={half.get('from')} className="row">
          <span>
            {half.get('from')} to {half.get('to')}
          </span>
          <DownloadButton href={`/auditors-pack/pdf?${half}`}>PDF</DownloadButton>
          <DownloadButton href={`/auditors-pack/csv?${half}`}>CSV</DownloadButton>
        </div>
      ))}
    </Panel>
  );
}

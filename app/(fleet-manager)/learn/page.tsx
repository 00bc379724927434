import type { Metadata } from 'next';
import { forbidden } from 'next/navigation';
import { Suspense } from 'react';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { Button } from '@/app/_ui/button';
import { Field, SelectField } from '@/app/_ui/field';
import { Link } from '@/app/_ui/link';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { PrintButton } from '@/app/_ui/print-button';
import { permissionOf } from '@/lib/access';
import { lifeGroupings } from '@/lib/analysis/life';
import { parts } from '@/lib/analysis/reading';
import { CausesPanel } from './causes-panel';
import { ForecastsPanel } from './forecasts-panel';
import { GaugesPanel } from './gauges-panel';
import styles from './learn.module.css';
import { learnSearchOf } from './learn-search';
import { LivesPanel } from './lives-panel';

export const metadata: Metadata = { title: 'Learn' };

interface LearnPageProps {
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

export default async function LearnPage({ searchParams }: LearnPageProps) {
  const search = learnSearchOf(await searchParams);
  const person = await requireSignIn('/learn');
  if (permissionOf(person.role, 'see units') === 'no') forbidden();
  return (
    <Shell person={person}>
      <Page
        title="Learn"
        above={<Link href="/yard">Yard</Link>}
        lede="How long parts last, when a planned change costs least, and how good the forecasts and the gauges were."
        actions={<PrintButton>Print</PrintButton>}
      >
        <div className="stack">
          <form className={`${styles.choose} no-print`}>
            <SelectField id="part" name="part" label="Part" defaultValue={search.part}>
              {parts.map((part) => (
                <option key={part}>{part}</option>
              ))}
            </SelectField>
            <SelectField id="by" name="by" label="Compare by" defaultValue={search.by}>
              {lifeGroupings.map((by) => (
                <option key={by} value={by}>
                  {by === 'all' ? 'nothing, the whole fleet' : by}
                </option>
              ))}
            </SelectField>
            <Field
              id="ratio"
              name="ratio"
              label="A failure costs"
              inputMode="decimal"
              defaultValue={String(search.ratio)}
              suffix="planned changes"
              size={5}
            />
            <Button type="submit" main>
              Show
            </Button>
          </form>
          <Suspense fallback={<Panel title="Life">Reading the fleet’s fitments…</Panel>}>
            <LivesPanel person={person} search={search} />
          </Suspense>
          <Suspense
            fallback={<Panel title="How good our forecasts were">Replaying the histories…</Panel>}
          >
            <ForecastsPanel person={person} />
          </Suspense>
          <Suspense
            fallback={<Panel title="Gauges beside each other">Comparing the gauges…</Panel>}
          >
            <GaugesPanel person={person} />
          </Suspense>
          <Suspense>
            <CausesPanel person={person} />
          </Suspense>
        </div>
      </Page>
    </Shell>
  );
}

import type { Metadata } from 'next';
import { forbidden } from 'next/navigation';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { Link } from '@/app/_ui/link';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { may } from '@/lib/access';
import { bulletinColumns, furtherColumns, rangeColumns } from '@/lib/intake/bulletin-rows';
import { partPlaces } from '@/lib/intake/range-cells';
import styles from './import.module.css';
import { ImportForm } from './import-form';

export const metadata: Metadata = { title: 'Import bulletins' };

const namesOfRange = Object.values(rangeColumns).filter((name) => !/_\d$/.test(name));

export default async function ImportBulletinsPage() {
  const person = await requireSignIn('/effectivity/import');
  if (!may(person, 'edit bulletins') || !may(person, 'import')) forbidden();
  return (
    <Shell person={person}>
      <Page
        above={<Link href="/effectivity">Effectivity</Link>}
        title="Import bulletins"
        lede="All of a file or nothing. A bulletin that is on record word for word is left alone, so a file may be sent again."
      >
        <div className="stack">
          <Panel>
            <ImportForm />
          </Panel>
          <Panel title="Columns">
            <div className={`stack ${styles.names}`}>
              <p>One row for each range; ranges of one bulletin follow each other.</p>
              <p>
                <b>Asked for:</b> {bulletinColumns.join(', ')}.
              </p>
              <p>
                <b>May follow:</b> {furtherColumns.join(', ')}. The cell of required_parts holds
                parts with their revisions, such as “pump C or D; check valve”.
              </p>
              <p>
                <b>Of a range:</b> {namesOfRange.join(', ')}. A second part to be asked of stands in
                part_2, revisions_2 and so on, up to part_{partPlaces.length}. Several names stand
                in one cell with semicolons between. What is left empty asks nothing; a range that
                asks nothing at all is refused unless every_unit says yes.
              </p>
            </div>
          </Panel>
        </div>
      </Page>
    </Shell>
  );
}

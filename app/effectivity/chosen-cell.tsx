import { DataTable } from '@/app/_ui/data-table';
import { FactLink } from '@/app/_ui/fact-link';
import { Facts } from '@/app/_ui/facts';
import { ChoiceField } from '@/app/_ui/field';
import { Link } from '@/app/_ui/link';
import { Pager } from '@/app/_ui/pager';
import { Panel } from '@/app/_ui/panel';
import type { effectivity, unitsUnderBulletin } from '@/db/reads/effectivity';
import { ActForm } from '../(safety-officer)/act-form';
import { placeInPlan } from './actions';
import styles from './effectivity.module.css';

interface ChosenCellProps {
  readonly bulletin: Awaited<ReturnType<typeof effectivity>>['bulletins'][number];
  readonly range: string;
  readonly pairs: Awaited<ReturnType<typeof unitsUnderBulletin>>;
  readonly page: number;
  readonly hrefFor: (page: number) => string;
  readonly mayPlan: boolean;
}

const unitsAPage = 100;

/** The units behind a cell: why each is covered, or which fact is missing and who can get it. */
export function ChosenCell({
  bulletin,
  range,
  pairs,
  page: asked,
  hrefFor,
  mayPlan,
}: ChosenCellProps) {
  const pages = Math.max(1, Math.ceil(pairs.length / unitsAPage));
  const page = Math.min(Math.max(1, Math.trunc(asked)), pages);
  const shown = pairs.slice((page - 1) * unitsAPage, page * unitsAPage);
  const open = shown.filter(({ status }) => status === 'open');
  return (
    <Panel id="chosen" title={`${bulletin.number} issue ${bulletin.issue}, ${range}`}>
      <div className="stack">
        <p>{bulletin.conditions}</p>
        <Facts
          facts={[
            { term: 'Kind', value: bulletin.kind },
            { term: 'Issued', value: bulletin.issuedOn },
            ...(bulletin.dueOn ? [{ term: 'Due', value: bulletin.dueOn }] : []),
            { term: 'To do', value: bulletin.actions },
            { term: 'Bay hours', value: bulletin.hours.toFixed(1) },
            { term: 'Source', value: bulletin.source },
          ]}
        />
        {pairs.length === 0 ? (
          <p className="mute">No unit of this range is listed here.</p>
        ) : (
          <DataTable label={`Units under ${bulletin.number}`} small>
            <thead>
              <tr>
                <th scope="col">Unit</th>
                <th scope="col">Status</th>
                <th scope="col">Why</th>
              </tr>
            </thead>
            <tbody>
              {shown.map(({ unitId, status, why, missing, order }) => (
                <tr key={unitId}>
                  <th scope="row" className="unbroken">
                    <Link href={`/units/${encodeURIComponent(unitId)}/bulletins/${bulletin.id}`}>
                      {unitId}
                    </Link>
                  </th>
                  <td>
                    {status}
                    {order && (
                      <>
                        , <Link href={`/work-orders/${order}`}>order {order}</Link>
                      </>
                    )}
                  </td>
                  <td>
                    {why}
                    {status === 'undecided' &&
                      missing.map(({ fact, whoCanGetIt, how }) => (
                        <div key={fact} className="small">
                          <b>{whoCanGetIt}:</b> {how} <FactLink unitId={unitId} fact={fact} />
                        </div>
                      ))}
                  </td>
                </tr>
              ))}
            </tbody>
          </DataTable>
        )}
        <Pager
          page={page}
          pages={pages}
          hrefFor={hrefFor}
          label={`Pages of units under ${bulletin.number}`}
        />
        {mayPlan && (
          <ActForm
            action={placeInPlan}
            hidden={{ bulletinId: bulletin.id }}
            button={open.length > 0 ? 'Place the chosen in the bay plan' : null}
            isMain
            isWide
          >
            {open.length > 0 && (
              <fieldset>
                <legend>
                  Open on {open.length}
                  {pages > 1 && ' of this page'}
                </legend>
                <div className={styles.choices}>
                  {open.map(({ unitId }, index) => (
                    <ChoiceField
                      key={unitId}
                      id={index === 0 ? 'units' : `unit-${unitId}`}
                      name="units"
                      value={unitId}
                      defaultChecked
                      label={unitId}
                    />
                  ))}
                </div>
              </fieldset>
            )}
          </ActForm>
        )}
      </div>
    </Panel>
  );
}

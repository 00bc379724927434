import { DataTable } from '@/app/_ui/data-table';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import type { SignedInPerson } from '@/db/reads/actor-of-person';
import { bulletinWorth } from '@/db/reads/bulletin-worth';
import type { RateComparison } from '@/lib/bulletins/does-it-help';
import type { EventRate, RateRatio } from '@/lib/statistics/rate-ratio';

interface WorthPanelProps {
  readonly bulletinId: string;
  readonly person: SignedInPerson;
  readonly now: Date;
}

const rate = ({ events, time }: EventRate): string =>
  time === 0
    ? 'no time observed'
    : `${events} in ${time.toFixed(1)} unit-years, ${((100 * events) / time).toFixed(1)} per 100`;

function ratio(found: RateRatio, of: string): string {
  if (found.outcome !== 'estimated') return found.outcome;
  const { low, high } = found;
  const figure =
    found.ratio === null
      ? `no figure, none ${of}`
      : `${found.ratio.toFixed(2)} times the rate ${of}`;
  const range =
    high === null ? `${low.toFixed(2)} or more` : `${low.toFixed(2)} to ${high.toFixed(2)}`;
  return `${figure} (95 in 100: ${range})`;
}

const rows = (
  what: string,
  { before, after, notCovered, coveredNotDone, ...ratios }: RateComparison,
) => [
  [what, 'before the work', rate(before), ''],
  [what, 'after the work', rate(after), ratio(ratios.afterOverBefore, 'before it')],
  [
    what,
    'covered, until the work',
    rate(coveredNotDone),
    ratio(ratios.coveredOverNotCovered, 'among units not covered'),
  ],
  [what, 'not covered', rate(notCovered), ''],
];

/** Failures and drift before and after the work, and covered against not covered. */
export async function WorthPanel({ bulletinId, person, now }: WorthPanelProps) {
  const { db } = await database();
  const worth = await bulletinWorth(db, person, bulletinId, now);
  if (!worth) return null;
  const { units, failures, drifts, caution } = worth;
  return (
    <Panel title="Does it help?">
      <div className="stack">
        <p>
          {units.done} units done, {units.notDone} covered and not done, {units.notCovered} not
          covered.
        </p>
        <DataTable label="Failures and drift, before and after, covered and not" small>
          <thead>
            <tr>
              <th scope="col">What</th>
              <th scope="col">Among</th>
              <th scope="col">Rate</th>
              <th scope="col">Ratio</th>
            </tr>
          </thead>
          <tbody>
            {[...rows('Failures', failures), ...rows('Drift', drifts)].map(
              ([what, among, found, compared]) => (
                <tr key={`${what} ${among}`}>
                  <td>{what}</td>
                  <th scope="row">{among}</th>
                  <td>{found}</td>
                  <td>{compared}</td>
                </tr>
              ),
            )}
          </tbody>
        </DataTable>
        <p>
          <b>{caution}</b>
        </p>
        <p className="mute small">
          Failures are removals as worn or failed of the part that the bulletin asks for, of any
          part where it asks for none. Drift counts the days on which a unit was first marked
          Drifting. Ratios with exact intervals; undecided units belong to neither group.
        </p>
      </div>
    </Panel>
  );
}

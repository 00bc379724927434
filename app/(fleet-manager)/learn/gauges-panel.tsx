import { DataTable } from '@/app/_ui/data-table';
import { EmptyState } from '@/app/_ui/empty-state';
import { noValue, pressure, pressureDifference } from '@/app/_ui/format';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import type { SignedInPerson } from '@/db/reads/actor-of-person';
import { clockOfPerson } from '@/db/reads/clock-of-person';
import { type GaugeOnRecord, gaugeRecord } from '@/db/reads/gauge-record';
import { localDay } from '@/lib/calendar';
import type { PressureUnit } from '@/lib/measure';
import { keptForTheDay } from './kept-for-the-day';

const title = 'Gauges beside each other';
const gaugeRecordOfDay = keptForTheDay(gaugeRecord);

function shownWords({ offset, isDoubtful, others }: GaugeOnRecord, unit: PressureUnit): string {
  if (offset === null) return 'Too few comparisons to say.';
  if (!isDoubtful) return 'No clear difference.';
  const than = others.length === 1 ? 'the only one it is compared with: check both' : 'the others';
  return offset > 0
    ? `${pressure(offset, unit)} more than ${than}. Worn pumps look better on it than they are: have it checked.`
    : `${pressure(-offset, unit)} less than ${than}. Have it checked.`;
}

export async function GaugesPanel({ person }: { readonly person: SignedInPerson }) {
  const { db } = await database();
  const today = localDay(new Date(), await clockOfPerson(db, person));
  const { gauges, units, unitsSampled } = await gaugeRecordOfDay(person, today);
  const { pressureUnit } = person;
  return (
    <Panel title={title}>
      {gauges.length === 0 ? (
        <EmptyState>
          No gauge was used between two readings of the same unit with others.
        </EmptyState>
      ) : (
        <DataTable label={title} stacks>
          <thead>
            <tr>
              <th scope="col">Gauge</th>
              <th scope="col">It shows</th>
              <th scope="col">Difference (95%)</th>
              <th scope="col" className="number">
                Comparisons
              </th>
              <th scope="col">Compared with</th>
              <th scope="col">Calibration due</th>
            </tr>
          </thead>
          <tbody>
            {gauges.map((one) => (
              <tr key={one.gauge}>
                <th scope="row">{one.label}</th>
                <td data-label="It shows" className="words">
                  {one.isDoubtful ? (
                    <b>{shownWords(one, pressureUnit)}</b>
                  ) : (
                    shownWords(one, pressureUnit)
                  )}
                </td>
                <td data-label="Difference" className="unbroken">
                  {one.interval
                    ?.map((edge) => pressureDifference(edge, pressureUnit))
                    .join(' to ') ?? noValue}
                </td>
                <td data-label="Comparisons" className="number">
                  {one.comparisons}
                </td>
                <td data-label="With" className="words">
                  {one.others.join(', ')}
                </td>
                <td data-label="Calibration" className="unbroken">
                  {one.calibrationDueOn ?? noValue}
                </td>
              </tr>
            ))}
          </tbody>
        </DataTable>
      )}
      <p className="small mute">
        Idle vacuum of the last three years, where the same unit was read with other gauges before
        and after, no vacuum part fitted between
        {unitsSampled < units && `; ${unitsSampled} units evenly chosen from ${units}`}. What all
        gauges share is not seen, and no reading is corrected by it.
      </p>
    </Panel>
  );
}

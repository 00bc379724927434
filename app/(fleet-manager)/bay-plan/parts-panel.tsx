import { DataTable } from '@/app/_ui/data-table';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import type { SignedInPerson } from '@/db/reads/actor-of-person';
import type { BayPlan } from '@/db/reads/bay-plan';
import { partNeeds } from '@/db/reads/part-needs';
import { isoWeekOf } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';
import { partsToOrder } from '@/lib/planning/parts-to-order';

interface PartsPanelProps {
  readonly person: SignedInPerson;
  readonly plan: BayPlan;
  readonly today: DayNumber;
}

/** Parts by the week in which to order them; forecast work counts by its probability. */
export async function PartsPanel({ person, plan, today }: PartsPanelProps) {
  const { db } = await database();
  const report = partsToOrder(await partNeeds(db, person, plan), plan.stock, today);
  return (
    <Panel title="Parts to order">
      <DataTable label="Parts by order-by week" small>
        <thead>
          <tr>
            <th>Order by</th>
            <th>Part</th>
            <th className="number">Need</th>
            <th className="number">Stock</th>
            <th className="number">Order</th>
          </tr>
        </thead>
        <tbody>
          {report.parts.map(({ part, inStock, needs, toOrder, orderBy, isLate }) => {
            const last = needs.at(-1);
            return (
              <tr key={`${part.partNumber} ${part.revision}`}>
                <td>
                  {orderBy === null ? 'enough' : isoWeekOf(orderBy)}
                  {isLate && <b> late</b>}
                </td>
                <td>
                  {part.description}, {part.partNumber} {part.revision}
                </td>
                <td className="number">
                  {last ? `${last.expected.toFixed(1)} (${last.low80}–${last.high80})` : '0'}
                </td>
                <td className="number">{inStock}</td>
                <td className="number">{toOrder}</td>
              </tr>
            );
          })}
        </tbody>
      </DataTable>
      <p className="small mute">Need to the end of the plan: mean, and 8 in 10 between.</p>
      {report.notListed.length > 0 && (
        <p className="small">
          Not on the list of parts:{' '}
          {[...new Set(report.notListed.map((need) => need.partNumber))].join(', ')}.
        </p>
      )}
    </Panel>
  );
}

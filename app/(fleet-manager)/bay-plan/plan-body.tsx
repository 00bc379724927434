import { Suspense } from 'react';
import { Link } from '@/app/_ui/link';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import type { SignedInPerson } from '@/db/reads/actor-of-person';
import type { BayCapacity } from '@/db/reads/bay-capacity';
import { bayPlan } from '@/db/reads/bay-plan';
import type { DayNumber } from '@/lib/measure';
import { checkPlan } from '@/lib/planning/check-plan';
import { explainNotPlaced } from '@/lib/planning/explain-not-placed';
import styles from './bay-plan.module.css';
import { ChosenPanel } from './chosen-panel';
import { HoursPanel } from './hours-panel';
import { NotServedPanel } from './not-served-panel';
import { PartsPanel } from './parts-panel';
import { PlanGrid } from './plan-grid';
import { WeightLine } from './weight-line';

interface PlanBodyProps {
  readonly person: SignedInPerson;
  readonly weeks: readonly string[];
  readonly today: DayNumber;
  readonly capacity: BayCapacity;
  /** What the address chooses. */
  readonly search: { readonly order?: string; readonly unit?: string };
}

/** The plan with its orders, once they are read. */
export async function PlanBody({ person, weeks, today, capacity, search }: PlanBodyProps) {
  const plan = await bayPlan((await database()).db, person, today, capacity);
  const { input, orders, placement } = plan;
  const { loads } = checkPlan(input, placement);
  const sheds = input.sheds.map((shed) => ({
    id: shed.id,
    name: shed.name,
    hoursPerWeek: shed.hoursPerWeek,
    loads: loads
      .filter(({ slot }) => slot.shedId === shed.id)
      .map(({ openHours, placedHours }) => ({ open: openHours, placed: placedHours })),
  }));
  const slots = sheds.flatMap((shed) =>
    weeks.map((week, k) => {
      const { open, placed } = shed.loads[k] ?? { open: 0, placed: 0 };
      return {
        value: `${shed.id}/${week}`,
        text: `${week} ${shed.name}, ${(open - placed).toFixed(1)} h free`,
      };
    }),
  );
  const chosen =
    orders.find(({ number }) => number === Number(search.order)) ??
    orders.find(({ unitId }) => unitId === search.unit);
  const notPlaced = explainNotPlaced(input, placement);
  const orderOf = new Map(orders.map((order) => [order.id, order]));
  return (
    <>
      <Suspense fallback={<p className={styles.weight}>Weighing the plan…</p>}>
        <WeightLine plan={plan} />
      </Suspense>
      <div className={styles.columns}>
        <div className="stack">
          <Panel flush>
            <PlanGrid
              weeks={weeks}
              sheds={sheds}
              chosenId={chosen?.id ?? null}
              orders={orders.map(({ tasks, partNumbers, wantedBy, hours, state, ...order }) => ({
                ...order,
                mayMove: state === 'raised' || state === 'placed',
              }))}
            />
          </Panel>
          <Suspense fallback={<Panel title="Parts to order">Counting the parts…</Panel>}>
            <PartsPanel person={person} plan={plan} today={today} />
          </Suspense>
        </div>
        <div className="stack">
          {search.unit && !chosen && (
            <Panel title={`Unit ${search.unit}`}>
              <p>
                No order is open for it.{' '}
                <Link href={`/work-orders/new?unit=${encodeURIComponent(search.unit)}`}>
                  Raise one
                </Link>
              </p>
            </Panel>
          )}
          {chosen && (
            <ChosenPanel order={chosen} plan={plan} weeks={weeks} slots={slots} today={today} />
          )}
          <Panel title={`Not placed: ${notPlaced.length}`}>
            {notPlaced.length === 0 ? (
              <p>All placed.</p>
            ) : (
              <ul className={styles.list}>
                {notPlaced.slice(0, 40).map(({ jobId, unit, why, text }) => (
                  <li key={jobId}>
                    <Link href={`/bay-plan?order=${orderOf.get(jobId)?.number}`} scroll={false}>
                      {unit}
                    </Link>{' '}
                    {orderOf.get(jobId)?.why}{' '}
                    <span className="small mute">
                      {why === 'costs more to bring in than to leave'
                        ? 'A week has room for it.'
                        : text}
                    </span>
                  </li>
                ))}
              </ul>
            )}
            {notPlaced.length > 40 && <p className="small">{notPlaced.length - 40} more.</p>}
          </Panel>
          <Suspense fallback={<Panel title="Book in, without an order">Looking…</Panel>}>
            <NotServedPanel person={person} />
          </Suspense>
          <HoursPanel plan={plan} weeks={weeks} />
        </div>
      </div>
    </>
  );
}

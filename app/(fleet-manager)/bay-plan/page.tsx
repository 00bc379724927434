import type { Metadata } from 'next';
import Link from 'next/link';
import { forbidden } from 'next/navigation';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { inWeeks } from '@/app/_ui/format';
import { MarkGlyph, MarkTag } from '@/app/_ui/mark';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { PrintButton } from '@/app/_ui/print-button';
import { database } from '@/db/handle';
import { bayPlan } from '@/db/reads/bay-plan';
import { permissionOf } from '@/lib/access';
import { isoWeekOf, localDay } from '@/lib/calendar';
import { openHours } from '@/lib/planning/open-hours';
import { partsToOrder } from '@/lib/planning/parts-to-order';
import styles from './bay-plan.module.css';
import { MoveOrder } from './move-order';
import { PartsPanel } from './parts-panel';
import { ProposeButton } from './propose-button';

export const metadata: Metadata = { title: 'Bay plan' };

interface BayPlanPageProps {
  readonly searchParams: Promise<{ readonly order?: string }>;
}

export default async function BayPlanPage({ searchParams }: BayPlanPageProps) {
  const chosenNumber = Number((await searchParams).order);
  const person = await requireSignIn('/bay-plan');
  if (permissionOf(person.role, 'plan') !== 'yes') forbidden();
  const { db } = await database();
  const today = localDay(new Date(), 'UTC');
  const { input, orders, stock, needs, withoutOrder } = await bayPlan(db, person, today);
  const weeks = Array.from({ length: input.weekCount }, (_, k) =>
    isoWeekOf(input.firstMonday + 7 * k),
  );
  const loadOf = (shedId: string, week: string) =>
    orders
      .filter((order) => order.shedId === shedId && order.week === week)
      .reduce((sum, order) => sum + order.hours + input.setUpHours, 0);
  const slots = input.sheds.flatMap((shed) =>
    weeks.map((week) => ({
      value: `${shed.id}/${week}`,
      text: `${week} ${shed.name}, ${(openHours(shed, week) - loadOf(shed.id, week)).toFixed(1)} h free`,
    })),
  );
  const chosen = orders.find(({ number }) => number === chosenNumber);
  const notPlaced = orders.filter(({ week }) => week === null);
  const parts = partsToOrder(needs, stock, today);
  return (
    <Shell person={person}>
      <Page
        title="Bay plan"
        lede={`${weeks[0]} to ${weeks.at(-1)} · ${input.sheds.length} sheds · work of one unit joined into one visit where the dates allow`}
        actions={<PrintButton>Print</PrintButton>}
      >
        <ProposeButton />
        <div className={styles.columns}>
          <div className="stack">
            <Panel flush>
              {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must take the keyboard */}
              <section className={styles.scroll} aria-label="Weeks by shed" tabIndex={0}>
                <table className={styles.grid}>
                  <caption className="visually-hidden">
                    Bay hours and orders by shed and week
                  </caption>
                  <thead>
                    <tr>
                      <th scope="col">Shed</th>
                      {weeks.map((week) => (
                        <th key={week} scope="col">
                          {week.slice(0, 4)}
                          <br />
                          {week.slice(5)}
                        </th>
                      ))}
                    </tr>
                  </thead>
                  <tbody>
                    {input.sheds.map((shed) => (
                      <tr key={shed.id}>
                        <th scope="row">
                          {shed.name}
                          <span className={styles.under}>{shed.hoursPerWeek} h a week</span>
                        </th>
                        {weeks.map((week) => {
                          const open = openHours(shed, week);
                          const load = loadOf(shed.id, week);
                          return (
                            <td key={week}>
                              <span className={load > open + 1e-6 ? styles.over : styles.load}>
                                {load.toFixed(0)} / {open.toFixed(0)} h
                              </span>
                              {orders
                                .filter((order) => order.shedId === shed.id && order.week === week)
                                .map((order) => (
                                  <Link
                                    key={order.id}
                                    className={
                                      order.id === chosen?.id ? styles.chosenJob : styles.job
                                    }
                                    href={`/bay-plan?order=${order.number}`}
                                    scroll={false}
                                    title={order.why}
                                  >
                                    {order.mark && <MarkGlyph mark={order.mark} size={12} />}
                                    {order.unitId}
                                    {order.isPinned && (
                                      <>
                                        <span aria-hidden="true">·</span>
                                        <span className="visually-hidden">, pinned</span>
                                      </>
                                    )}
                                  </Link>
                                ))}
                            </td>
                          );
                        })}
                      </tr>
                    ))}
                  </tbody>
                </table>
              </section>
              <p className={`${styles.note} small mute`}>
                Hours placed against hours open, set-up included; bold and underlined where more is
                placed than open. A dot marks what a person pinned. Nothing here needs dragging.
              </p>
            </Panel>
            <PartsPanel report={parts} />
          </div>
          <div className="stack">
            {chosen && (
              <Panel title={`Order ${chosen.number}, unit ${chosen.unitId}`}>
                {chosen.mark && <MarkTag mark={chosen.mark} />}
                <p>{chosen.why}</p>
                <p className="small">
                  {chosen.tasks.join(', ')}. {chosen.hours.toFixed(1)} bay hours.{' '}
                  {chosen.wantedBy !== null && `Wanted ${inWeeks(chosen.wantedBy, today)}.`}
                </p>
                {chosen.state === 'raised' || chosen.state === 'placed' ? (
                  <MoveOrder
                    key={chosen.version}
                    orderId={chosen.id}
                    version={chosen.version}
                    week={chosen.week}
                    slots={slots}
                  />
                ) : (
                  <p>The work has begun; it stays where it is.</p>
                )}
                <Link href={`/work-orders/${chosen.number}`}>Job card</Link>
              </Panel>
            )}
            <Panel title={`Not placed: ${notPlaced.length}`}>
              {notPlaced.length === 0 ? (
                <p>All placed.</p>
              ) : (
                <ul className={styles.list}>
                  {notPlaced.map((order) => (
                    <li key={order.id}>
                      <Link href={`/bay-plan?order=${order.number}`} scroll={false}>
                        {order.unitId}
                      </Link>{' '}
                      {order.wantedBy !== null && <>by {isoWeekOf(order.wantedBy)}</>} {order.why}
                    </li>
                  ))}
                </ul>
              )}
            </Panel>
            <Panel title={`Book in, without an order: ${withoutOrder.length}`}>
              <ul className={styles.list}>
                {withoutOrder.slice(0, 12).map(({ unitId, why }) => (
                  <li key={unitId}>
                    <Link href={`/work-orders/new?unit=${unitId}`}>{unitId}</Link> {why}
                  </li>
                ))}
              </ul>
              {withoutOrder.length > 12 && (
                <p className="small">{withoutOrder.length - 12} more in the yard.</p>
              )}
            </Panel>
          </div>
        </div>
      </Page>
    </Shell>
  );
}

import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { LinkButton } from '@/app/_ui/button';
import { Facts } from '@/app/_ui/facts';
import { Link } from '@/app/_ui/link';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { PrintButton } from '@/app/_ui/print-button';
import { SignalWord } from '@/app/_ui/signal-word';
import { database } from '@/db/handle';
import { workOrderByNumber } from '@/db/reads/work-order';
import { may } from '@/lib/access';
import { orderStateWords } from '../words';
import styles from '../work-orders.module.css';
import { FinishForm } from './finish-form';
import { JobSteps } from './job-steps';
import { MoveForms } from './move-forms';

interface WorkOrderPageProps {
  readonly params: Promise<{ readonly number: string }>;
}

export async function generateMetadata({ params }: WorkOrderPageProps): Promise<Metadata> {
  return { title: `Work order ${(await params).number}` };
}

export default async function WorkOrderPage({ params }: WorkOrderPageProps) {
  const { number } = await params;
  const person = await requireSignIn(`/work-orders/${number}`);
  if (!/^\d{1,9}$/.test(number)) notFound();
  const { db } = await database();
  const view = await workOrderByNumber(db, person, Number(number));
  if (!view) notFound();
  const { order, unit, shed, tasks, templates, bulletins, fitted, stock, nameOf } = view;
  const who = (id: string | null) => (id === null ? null : (nameOf.get(id) ?? id));
  const fittedNow = fitted.filter(({ removedOn }) => removedOn === null);
  const mayWork = may(person, 'work a work order', unit.shedId);
  const isTechnician = person.role === 'technician';
  return (
    <Shell person={person}>
      <Page
        above={<Link href="/work-orders">Work orders</Link>}
        title={`Work order ${order.number}: unit ${unit.id}`}
        lede={order.why}
        actions={
          <>
            <LinkButton href={`/units/${unit.id}`}>Unit sheet</LinkButton>
            <PrintButton>Print job card</PrintButton>
          </>
        }
      >
        <div className={styles.columns}>
          <div className="stack">
            <SignalWord signal="WARNING">
              <p>
                <b>
                  A brake booster without vacuum makes stopping take much longer; people can be
                  killed.
                </b>
              </p>
              <p>
                Chock the wheels and set the park brake before any check with the engine running;
                keep clear of belts and fan. The exhaust beside the work is hot. Service information
                in force prevails over this card.
              </p>
            </SignalWord>
            <JobSteps tasks={tasks} templates={templates} bulletins={bulletins} stock={stock} />
            {order.state === 'begun' && isTechnician && mayWork && (
              <Panel title="Finish the work">
                <FinishForm
                  orderId={order.id}
                  version={order.version}
                  odometerUnit={unit.odometerUnit}
                  tasks={tasks.map(({ id, title, state }) => ({ id, title, state }))}
                  parts={stock.map(({ part, partNumber, revision }) => ({
                    part,
                    partNumber,
                    revision,
                  }))}
                />
              </Panel>
            )}
          </div>
          <div className="stack">
            <Panel title={orderStateWords[order.state]}>
              <Facts
                facts={[
                  {
                    term: 'Unit',
                    value: `${unit.id}, ${unit.make ?? ''} ${unit.model ?? unit.body}`,
                  },
                  { term: 'VIN', value: unit.vin ?? 'not on record' },
                  { term: 'Shed', value: shed.name },
                  { term: 'Week', value: order.week ?? 'Not placed' },
                  {
                    term: 'Raised',
                    value: `${order.raisedAt.toISOString().slice(0, 10)} ${who(order.raisedBy) ?? 'by verdict'}`,
                  },
                  ...(order.waitingFor
                    ? [
                        {
                          term: 'Waits for',
                          value: `${order.waitingFor}${order.waitingUntil ? `, due ${order.waitingUntil}` : ''}`,
                        },
                      ]
                    : []),
                  ...(order.begunAt
                    ? [
                        {
                          term: 'Begun',
                          value: `${order.begunAt.toISOString().slice(0, 10)} ${who(order.begunBy)}`,
                        },
                      ]
                    : []),
                  ...(order.finishedAt
                    ? [
                        {
                          term: 'Finished',
                          value: `${order.finishedAt.toISOString().slice(0, 10)} ${who(order.finishedBy)}`,
                        },
                      ]
                    : []),
                  ...(order.foundCause
                    ? [
                        {
                          term: 'Found',
                          value: `${order.foundCause} (predicted: ${order.predictedCause ?? 'nothing'})`,
                        },
                      ]
                    : []),
                  ...(order.withdrawnWhy ? [{ term: 'Withdrawn', value: order.withdrawnWhy }] : []),
                ]}
              />
              {order.state === 'finished' && (
                <p>
                  The proof reading is owed.{' '}
                  {may(person, 'record a reading', unit.shedId) && (
                    <Link href={`/bay?unit=${unit.id}&proof=1`}>Take it with the bay card</Link>
                  )}
                </p>
              )}
              {mayWork && (
                <MoveForms
                  orderId={order.id}
                  version={order.version}
                  state={order.state}
                  role={person.role}
                />
              )}
            </Panel>
            <Panel title="Fitted now">
              <Facts
                facts={fittedNow.map(({ part, revision, fittedOn, dateCode }) => ({
                  term: part,
                  value: [
                    revision && `revision ${revision}`,
                    dateCode && `date code ${dateCode}`,
                    fittedOn && `since ${fittedOn}`,
                  ]
                    .filter(Boolean)
                    .join(', '),
                }))}
              />
            </Panel>
          </div>
        </div>
      </Page>
    </Shell>
  );
}

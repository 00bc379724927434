import { Field, SelectField } from '@/app/_ui/field';
import { inWeeks } from '@/app/_ui/format';
import { Link } from '@/app/_ui/link';
import { MarkTag } from '@/app/_ui/mark';
import { Panel } from '@/app/_ui/panel';
import { ActForm } from '@/app/(safety-officer)/act-form';
import type { BayPlan, PlannedOrder } from '@/db/reads/bay-plan';
import type { DayNumber } from '@/lib/measure';
import { noteAbsence } from './hours-actions';
import { MoveOrder } from './move-order';

interface ChosenPanelProps {
  readonly order: PlannedOrder;
  readonly plan: BayPlan;
  readonly weeks: readonly string[];
  readonly slots: readonly { readonly value: string; readonly text: string }[];
  readonly today: DayNumber;
}

export function ChosenPanel({ order, plan, weeks, slots, today }: ChosenPanelProps) {
  const away = plan.absences.filter(({ unitId }) => unitId === order.unitId);
  const readyOn = plan.input.jobs.find(({ id }) => id === order.id)?.readyOn ?? null;
  return (
    <Panel title={`Order ${order.number}, unit ${order.unitId}`}>
      {order.mark && <MarkTag mark={order.mark} />}
      <p>{order.why}</p>
      <p className="small">
        {order.tasks.join(', ')}. {order.hours.toFixed(1)} bay hours.{' '}
        {order.wantedBy !== null && `Wanted ${inWeeks(order.wantedBy, today)}. `}
        {readyOn !== null && `Its parts are there ${inWeeks(readyOn, today)}. `}
        {order.overfilledWhy !== null && `Over the hours of its week: ${order.overfilledWhy}.`}
      </p>
      {order.state === 'raised' || order.state === 'placed' ? (
        <MoveOrder
          key={order.id}
          orderId={order.id}
          version={order.version}
          week={order.week}
          slots={slots}
        />
      ) : (
        <p>The work has begun; it stays where it is.</p>
      )}
      {away.length > 0 && (
        <p className="small">
          Away in {away.map(({ week, reason }) => `${week} (${reason})`).join(', ')}.
        </p>
      )}
      <details className="no-print">
        <summary>Weeks in which it cannot come</summary>
        <ActForm action={noteAbsence} hidden={{ unitId: order.unitId }} button="Note it">
          <SelectField id="absence-week" name="week" label="Week">
            {weeks.map((week) => (
              <option key={week}>{week}</option>
            ))}
          </SelectField>
          <SelectField id="away" name="away" label="The unit">
            <option value="yes">is away</option>
            <option value="no">can come after all</option>
          </SelectField>
          <Field id="absence-reason" name="reason" label="Why" maxLength={200} />
        </ActForm>
      </details>
      <Link href={`/work-orders/${order.number}`}>Job card</Link>
    </Panel>
  );
}

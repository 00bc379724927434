import { Link } from '@/app/_ui/link';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import { type SheetOrder, unitSheetOrders } from '@/db/reads/unit-sheet-orders';
import type { Mark } from '@/lib/analysis/assessment';

interface PlanPanelProps {
  readonly unitId: string;
  readonly mark: Mark | null;
}

const isOver = ({ state }: SheetOrder): boolean => state === 'closed' || state === 'withdrawn';

export async function PlanPanel({ unitId, mark }: PlanPanelProps) {
  const orders = await unitSheetOrders((await database()).db, unitId);
  const open = orders.filter((order) => !isOver(order));
  const needsBay = mark === 'Book in' || mark === 'Out of service';
  return (
    <Panel title="Plan">
      {open.length === 0 && <p>{needsBay ? 'Not placed.' : 'No work is open.'}</p>}
      {open.map((order) => (
        <div key={order.number}>
          <p>
            <b>{order.week ? `${order.week}, ${order.shed}.` : 'Not placed.'}</b>{' '}
            <Link href={`/work-orders/${order.number}`}>Work order {order.number}</Link>,{' '}
            {order.state}: {order.why}
          </p>
          <p className="mute small">
            {order.tasks.join(', ')}
            {order.hours > 0 && `; ${order.hours.toFixed(1)} bay hours`}
          </p>
        </div>
      ))}
      {orders.length > open.length && (
        <details>
          <summary>Earlier orders ({orders.length - open.length})</summary>
          <ul className="small">
            {orders.filter(isOver).map((order) => (
              <li key={order.number}>
                <Link href={`/work-orders/${order.number}`}>{order.number}</Link>, {order.state}:{' '}
                {order.why}
                {order.foundCause && ` Found: ${order.foundCause}.`}
              </li>
            ))}
          </ul>
        </details>
      )}
    </Panel>
  );
}

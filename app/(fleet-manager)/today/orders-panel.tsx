import { DataTable } from '@/app/_ui/data-table';
import { Link } from '@/app/_ui/link';
import { MarkGlyph } from '@/app/_ui/mark';
import { Panel } from '@/app/_ui/panel';
import type { OrderToday } from '@/db/reads/today';

interface OrdersPanelProps {
  readonly title: string;
  readonly orders: readonly OrderToday[];
  readonly empty: string;
}

const standing = ({ state, week, waitingFor, waitingUntil }: OrderToday): string => {
  if (state === 'waiting') {
    return `waits for ${waitingFor ?? 'a part'}${waitingUntil ? `, due ${waitingUntil}` : ''}`;
  }
  return state === 'placed' ? `placed in ${week}` : state;
};

export function OrdersPanel({ title, orders, empty }: OrdersPanelProps) {
  return (
    <Panel title={title} aside={orders.length} flush={orders.length > 0}>
      {orders.length === 0 ? (
        <p className="mute">{empty}</p>
      ) : (
        <DataTable label={title} small>
          <thead>
            <tr>
              <th scope="col">Unit</th>
              <th scope="col">Why</th>
              <th scope="col">Shed</th>
              <th scope="col">Stands</th>
              <th scope="col">Order</th>
            </tr>
          </thead>
          <tbody>
            {orders.map((order) => (
              <tr key={order.number}>
                <th scope="row">
                  {order.mark && <MarkGlyph mark={order.mark} size={14} />}{' '}
                  <Link href={`/units/${order.unitId}`}>{order.unitId}</Link>
                </th>
                <td className="words">{order.why}</td>
                <td>{order.shed}</td>
                <td>{standing(order)}</td>
                <td>
                  <Link href={`/work-orders/${order.number}`}>{order.number}</Link>
                </td>
              </tr>
            ))}
          </tbody>
        </DataTable>
      )}
    </Panel>
  );
}

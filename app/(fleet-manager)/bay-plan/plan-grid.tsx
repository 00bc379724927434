'use client';

import { type KeyboardEvent, useRef, useState } from 'react';
import { Button } from '@/app/_ui/button';
import { Field } from '@/app/_ui/field';
import { Link } from '@/app/_ui/link';
import { MarkGlyph } from '@/app/_ui/mark';
import type { Mark } from '@/lib/analysis/assessment';
import { moveInPlan } from './actions';
import styles from './bay-plan.module.css';
import { ShedHead, WeeksHead } from './plan-heads';
import { PlanMessages } from './plan-messages';
import { untouched } from './plan-state';
import { usePlanChange } from './use-plan-change';

export interface GridOrder {
  readonly id: string;
  readonly number: number;
  readonly version: number;
  readonly unitId: string;
  readonly mark: Mark | null;
  readonly why: string;
  readonly shedId: string;
  readonly week: string | null;
  readonly isPinned: boolean;
  readonly overfilledWhy: string | null;
  readonly mayMove: boolean;
}

export interface GridShed {
  readonly id: string;
  readonly name: string;
  readonly hoursPerWeek: number;
  readonly loads: readonly { readonly open: number; readonly placed: number }[];
}

interface PlanGridProps {
  readonly weeks: readonly string[];
  readonly sheds: readonly GridShed[];
  readonly orders: readonly GridOrder[];
  readonly chosenId: string | null;
}

interface Move {
  readonly order: GridOrder;
  readonly slot: string;
}

const steps: Partial<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

/** Weeks by shed. Orders are dragged, or moved with Alt and an arrow; each has its menu beside the grid. */
export function PlanGrid({ weeks, sheds, orders, chosenId }: PlanGridProps) {
  const { state, isBusy, change, undo } = usePlanChange();
  const [asked, setAsked] = useState<Move | null>(null);
  const [over, setOver] = useState<string | null>(null);
  const dragged = useRef<GridOrder | null>(null);
  const isOverfull = asked !== null && state.problems.some(({ field }) => field === 'reason');

  const move = ({ order, slot }: Move, reason = '') => {
    setAsked({ order, slot });
    const data = new FormData();
    data.set('orderId', order.id);
    data.set('seenVersion', String(order.version));
    data.set('slot', slot);
    data.set('reason', reason);
    change(() => moveInPlan(untouched, data));
  };
  const onKeyDown = (event: KeyboardEvent, order: GridOrder) => {
    const step = event.altKey && order.mayMove ? steps[event.key] : undefined;
    if (!step || isBusy) return;
    event.preventDefault();
    const week = weeks[weeks.indexOf(order.week ?? '') + step[0]];
    const shed = sheds[sheds.findIndex(({ id }) => id === order.shedId) + step[1]];
    if (week && shed) move({ order, slot: `${shed.id}/${week}` });
  };
  const onDrop = (slot: string) => {
    const order = dragged.current;
    dragged.current = null;
    setOver(null);
    if (order && slot !== `${order.shedId}/${order.week}`) move({ order, slot });
  };

  return (
    <>
      <div className={`${styles.messages} no-print`}>
        <PlanMessages state={state} isBusy={isBusy} onUndo={undo} />
        {isOverfull && (
          <form
            className={styles.move}
            onSubmit={(event) => {
              event.preventDefault();
              move(asked, String(new FormData(event.currentTarget).get('reason') ?? ''));
            }}
          >
            <Field
              id="reason"
              name="reason"
              label={`Why order ${asked.order.number} goes there all the same`}
              maxLength={200}
            />
            <Button type="submit" disabled={isBusy}>
              Place it
            </Button>
          </form>
        )}
      </div>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must take the keyboard */}
      <section className={styles.scroll} aria-label="Weeks by shed" tabIndex={0}>
        <table className={styles.grid} aria-busy={isBusy}>
          <caption className="visually-hidden">Bay hours and orders by shed and week</caption>
          <WeeksHead weeks={weeks} />
          <tbody>
            {sheds.map((shed) => (
              <tr key={shed.id}>
                <ShedHead {...shed} />
                {weeks.map((week, k) => {
                  const slot = `${shed.id}/${week}`;
                  const { open, placed } = shed.loads[k] ?? { open: 0, placed: 0 };
                  return (
                    <td
                      key={week}
                      className={over === slot ? styles.target : undefined}
                      onDragOver={(event) => {
                        event.preventDefault();
                        setOver(slot);
                      }}
                      onDrop={() => onDrop(slot)}
                    >
                      <span className={placed > open + 1e-6 ? styles.over : styles.load}>
                        {placed.toFixed(0)} / {open.toFixed(0)} h
                      </span>
                      {orders
                        .filter((order) => order.shedId === shed.id && order.week === week)
                        .map((order) => (
                          <Link
                            key={order.id}
                            className={order.id === chosenId ? styles.chosenJob : styles.job}
                            href={`/bay-plan?order=${order.number}`}
                            scroll={false}
                            title={order.why}
                            draggable={order.mayMove}
                            onDragStart={() => {
                              dragged.current = order;
                            }}
                            onDragEnd={() => setOver(null)}
                            onKeyDown={(event) => onKeyDown(event, order)}
                            aria-keyshortcuts={
                              order.mayMove
                                ? 'Alt+ArrowLeft Alt+ArrowRight Alt+ArrowUp Alt+ArrowDown'
                                : undefined
                            }
                          >
                            {order.mark && <MarkGlyph mark={order.mark} size={12} />}
                            {order.unitId}
                            {order.isPinned && (
                              <>
                                <span aria-hidden="true">·</span>
                                <span className="visually-hidden">, pinned</span>
                              </>
                            )}
                            {order.overfilledWhy !== null && (
                              <>
                                <span aria-hidden="true">!</span>
                                <span className="visually-hidden">
                                  , over the hours: {order.overfilledWhy}
                                </span>
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
    </>
  );
}

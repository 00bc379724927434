'use client';

import { type FormEvent, useState, useTransition } from 'react';
import { Button } from '@/app/_ui/button';
import { Field } from '@/app/_ui/field';
import { Link } from '@/app/_ui/link';
import type { SavedView } from '@/db/reads/saved-views';
import type { Problem } from '@/lib/result';
import { dropView, keepView } from './actions';
import styles from './yard.module.css';

interface SavedViewsProps {
  readonly views: readonly SavedView[];
  /** The address on show, without its row. */
  readonly address: string;
}

/** A person's own names for filters, order and columns. */
export function SavedViews({ views, address }: SavedViewsProps) {
  const [problem, setProblem] = useState<Problem | null>(null);
  const [isBusy, act] = useTransition();

  function onSubmit(event: FormEvent<HTMLFormElement>) {
    event.preventDefault();
    const form = event.currentTarget;
    const name = String(new FormData(form).get('name') ?? '');
    act(async () => {
      const found = await keepView(name, address);
      setProblem(found);
      if (!found) form.reset();
    });
  }

  return (
    <details className={`${styles.columns} no-print`}>
      <summary>Saved views{views.length > 0 && ` (${views.length})`}</summary>
      <div className={styles.choices}>
        <ul className={styles.views}>
          {views.map(({ id, name, address: to }) => (
            <li key={id}>
              <Link href={to ? `/yard?${to}` : '/yard'}>{name}</Link>
              <button
                type="button"
                className={styles.sort}
                disabled={isBusy}
                onClick={() => act(() => dropView(id))}
              >
                Remove<span className="visually-hidden"> {name}</span>
              </button>
            </li>
          ))}
        </ul>
        <form onSubmit={onSubmit} className="stack">
          <Field
            id="view-name"
            name="name"
            label="Save this view as"
            maxLength={60}
            required
            error={problem ? `${problem.message} ${problem.mend}` : undefined}
          />
          <Button type="submit" disabled={isBusy}>
            Save
          </Button>
        </form>
      </div>
    </details>
  );
}

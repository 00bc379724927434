'use client';

import { useActionState } from 'react';
import { Button } from '@/app/_ui/button';
import { ErrorSummary } from '@/app/_ui/error-summary';
import { StatusLine } from '@/app/_ui/status-line';
import { actOnUnits } from './actions';

interface AllFormProps {
  /** The yard's address of the list. */
  readonly list: string;
  readonly counted: number;
}

/** Work on all that the list holds, said twice: by the count and by the box. */
export function AllForm({ list, counted }: AllFormProps) {
  const [state, act, isBusy] = useActionState(actOnUnits, { problems: [], said: null });
  return (
    <form action={act} className="stack">
      <ErrorSummary problems={state.problems} />
      <input type="hidden" name="list" value={list} />
      <input type="hidden" name="counted" value={counted} />
      <label className="row">
        <input type="checkbox" name="sure" value="yes" id="sure" />
        All {counted} units of this list, not only those ticked below
      </label>
      <div className="row">
        <Button type="submit" name="act" value="place" disabled={isBusy}>
          Place all {String(counted)} in plan
        </Button>
        <Button type="submit" name="act" value="read" disabled={isBusy}>
          Schedule readings of all {String(counted)}
        </Button>
      </div>
      <StatusLine>{isBusy ? 'Raising and placing; some seconds.' : state.said}</StatusLine>
    </form>
  );
}

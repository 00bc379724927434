'use client';

import { Button } from '@/app/_ui/button';
import { proposeForAll } from './actions';
import styles from './bay-plan.module.css';
import { PlanMessages } from './plan-messages';
import { usePlanChange } from './use-plan-change';

export function ProposeButton() {
  const { state, isBusy, change, undo } = usePlanChange();
  return (
    <div className={`${styles.propose} no-print`}>
      <Button main disabled={isBusy} onClick={() => change(proposeForAll)}>
        {isBusy ? 'Working it out' : 'Propose for all not pinned'}
      </Button>
      <PlanMessages state={state} isBusy={isBusy} onUndo={undo} />
    </div>
  );
}

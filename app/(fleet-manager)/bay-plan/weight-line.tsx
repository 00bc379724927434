import { createHash } from 'node:crypto';
import { planElsewhere } from '@/app/_planner/plan-elsewhere';
import { Facts } from '@/app/_ui/facts';
import type { BayPlan } from '@/db/reads/bay-plan';
import type { PlanWeight } from '@/lib/planning/propose-plan';
import styles from './bay-plan.module.css';

interface WeightLineProps {
  readonly plan: Pick<BayPlan, 'input' | 'placement'>;
}

/** What the plan costs as it stands, beside earliest due first and the bound. */
export async function WeightLine({ plan }: WeightLineProps) {
  const { cost, earliestDueFirstCost, bound, gap } = await weightOf(plan);
  const beside = earliestDueFirstCost > 0 ? cost / earliestDueFirstCost - 1 : 0;
  return (
    <div className={styles.weight}>
      <Facts
        shape="line"
        facts={[
          {
            term: 'The plan as it stands',
            value: `${cost.toFixed(1)} bay hours of risk and delay`,
          },
          {
            term: 'Earliest due first',
            value: `${earliestDueFirstCost.toFixed(1)}: the plan is ${percent(Math.abs(beside))} ${beside > 0 ? 'above' : 'below'} it`,
          },
          { term: 'No plan weighs less than', value: boundWords(bound, gap) },
        ]}
      />
    </div>
  );
}

const percent = (share: number) => `${(100 * share).toFixed(1)}%`;

const boundWords = (bound: number, gap: number | null): string => {
  if (gap === null) return bound.toFixed(1);
  return gap < -0.0005
    ? `${bound.toFixed(1)} and keeps to hours and parts: this one does not`
    : `${bound.toFixed(1)}: this one is at most ${percent(Math.max(0, gap))} above the best`;
};

let last: { readonly of: string; readonly weight: PlanWeight } | null = null;

/** A plan that has not changed is weighed once. */
async function weightOf({ input, placement }: WeightLineProps['plan']): Promise<PlanWeight> {
  const text = JSON.stringify([input, [...placement]]);
  const of = createHash('sha256').update(text).digest('hex');
  if (last?.of !== of) {
    last = { of, weight: await planElsewhere({ ask: 'weigh', input, placement }) };
  }
  return last.weight;
}

import { desc } from 'drizzle-orm';
import { defaultFleetPrior, type FleetPrior } from '@/lib/analysis/fleet-prior';
import type { Db, Tx } from '../client';
import { fleetPrior } from '../schema';

/** The newest prior that the fleet has taught; the default until it has taught one. */
export async function fleetPriorInForce(db: Db | Tx): Promise<{
  readonly id: number | null;
  readonly prior: FleetPrior;
  readonly kilometresADay: number | null;
}> {
  const [row] = await db
    .select({
      id: fleetPrior.id,
      prior: fleetPrior.prior,
      kilometresADay: fleetPrior.kilometresADay,
    })
    .from(fleetPrior)
    .orderBy(desc(fleetPrior.id))
    .limit(1);
  return row ?? { id: null, prior: defaultFleetPrior, kilometresADay: null };
}

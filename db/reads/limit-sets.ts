import { desc, eq } from 'drizzle-orm';
import { alias } from 'drizzle-orm/pg-core';
import type { Db, Tx } from '../client';
import { limitSet, person } from '../schema';

const proposer = alias(person, 'proposer');
const decider = alias(person, 'decider');

/** Every set of limits, newest first, with who proposed and who decided. */
export async function limitSets(db: Db | Tx) {
  const rows = await db
    .select({ set: limitSet, proposedBy: proposer.name, decidedBy: decider.name })
    .from(limitSet)
    .leftJoin(proposer, eq(proposer.id, limitSet.proposedBy))
    .leftJoin(decider, eq(decider.id, limitSet.decidedBy))
    .orderBy(desc(limitSet.version));
  return rows.map(({ set, proposedBy, decidedBy }) => ({
    ...set,
    proposedById: set.proposedBy,
    proposedBy,
    decidedBy,
  }));
}

export type LimitSetOnRecord = Awaited<ReturnType<typeof limitSets>>[number];

import { and, desc, eq, gt } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { Db } from '../client';
import { session } from '../schema';

export interface OwnSession {
  readonly id: string;
  readonly since: Date;
  readonly lastUsed: Date;
  /** What the browser calls itself. */
  readonly browser: string | null;
}

/** Where the person is signed in, latest used first. */
export const ownSessions = (db: Db, actor: Actor, now: Date): Promise<OwnSession[]> =>
  db
    .select({
      id: session.id,
      since: session.createdAt,
      lastUsed: session.updatedAt,
      browser: session.userAgent,
    })
    .from(session)
    .where(and(eq(session.userId, actor.personId), gt(session.expiresAt, now)))
    .orderBy(desc(session.updatedAt))
    .limit(50);

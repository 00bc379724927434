import { type SQLWrapper, sql } from 'drizzle-orm';

interface Joined {
  readonly name: SQLWrapper;
  readonly badge: SQLWrapper;
  readonly isOutsideCertifier: SQLWrapper;
}

/** `Tal Venn, T-12` of a joined person, with `outside shop` where it is so; null where nobody signed. */
export const nameAndBadge = ({ name, badge, isOutsideCertifier }: Joined) =>
  sql<string | null>`${name} || ', ' || ${badge}
    || case when ${isOutsideCertifier} then ', outside shop' else '' end`;

import { sql } from 'drizzle-orm';
import { check, doublePrecision, integer, pgTable, primaryKey, text } from 'drizzle-orm/pg-core';
import { parts } from '@/lib/analysis/reading';

/** A part revision that can be ordered, its stock and lead time. */
export const partStock = pgTable(
  'part_stock',
  {
    partNumber: text().notNull(),
    revision: text().notNull(),
    part: text({ enum: parts }).notNull(),
    description: text().notNull(),
    supersededBy: text(),
    inStock: integer().notNull(),
    leadTimeDays: integer().notNull(),
    price: doublePrecision(),
  },
  (table) => [
    primaryKey({ columns: [table.partNumber, table.revision] }),
    check('part_stock_counts', sql`${table.inStock} >= 0 and ${table.leadTimeDays} >= 0`),
  ],
);

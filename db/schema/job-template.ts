import { doublePrecision, jsonb, pgTable, text } from 'drizzle-orm/pg-core';
import { taskKinds } from './work-task';

export interface JobStep {
  readonly text: string;
  /** Value with its unit of measure, e.g. a torque; service information in force prevails. */
  readonly value?: string;
  readonly caution?: string;
}

/** What a kind of task takes, in the fleet's own words; the fleet edits it. */
export const jobTemplate = pgTable('job_template', {
  kind: text({ enum: taskKinds }).primaryKey(),
  title: text().notNull(),
  hours: doublePrecision().notNull(),
  tools: jsonb().$type<readonly string[]>().notNull(),
  partNumbers: jsonb().$type<readonly string[]>().notNull(),
  steps: jsonb().$type<readonly JobStep[]>().notNull(),
  torqueNm: doublePrecision(),
});

DROP INDEX "verdict_current_yard";--> statement-breakpoint
CREATE INDEX "unit_first_figures" ON "unit" USING btree ("id" text_pattern_ops);--> statement-breakpoint
CREATE INDEX "verdict_current_edge" ON "verdict" USING btree ("earliest_edge_on","unit_id","mark") WHERE "verdict"."is_current";--> statement-breakpoint
CREATE INDEX "verdict_current_yard" ON "verdict" USING btree ("mark","earliest_edge_on","unit_id","latest_idle_kpa","latest_read_on","reading_due_on","horizon_probability") WHERE "verdict"."is_current";
ALTER TABLE "verdict" ADD COLUMN "wear" jsonb;
--> statement-breakpoint
UPDATE "verdict" SET "wear" = "assessment" -> 'wear' WHERE "is_current";
--> statement-breakpoint
CREATE INDEX "work_task_open" ON "work_task" USING btree ("work_order_id") WHERE "work_task"."state" = 'open';
ALTER TABLE "verdict" ADD COLUMN "belt_earliest_on" date;
--> statement-breakpoint
ALTER TABLE "verdict" ADD COLUMN "belt_due_on" date;
--> statement-breakpoint
ALTER TABLE "verdict" ADD COLUMN "belt_latest_on" date;
--> statement-breakpoint
UPDATE "verdict" SET
  "belt_earliest_on" = DATE '1970-01-01' + ("assessment" -> 'belt' ->> 'earliest80')::float8::int,
  "belt_due_on" = DATE '1970-01-01' + ("assessment" -> 'belt' ->> 'due')::float8::int,
  "belt_latest_on" = DATE '1970-01-01' + ("assessment" -> 'belt' ->> 'latest80')::float8::int
WHERE "is_current";
--> statement-breakpoint
CREATE INDEX "verdict_current_belt" ON "verdict" USING btree ("belt_earliest_on","belt_due_on","belt_latest_on","unit_id","latest_read_on","mark") WHERE "verdict"."is_current";

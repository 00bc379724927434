ALTER TABLE "judging_due" ADD COLUMN "touched" text DEFAULT 'age' NOT NULL;--> statement-breakpoint
ALTER TABLE "judging_due" ADD COLUMN "is_correction" boolean DEFAULT false NOT NULL;--> statement-breakpoint
ALTER TABLE "judging_due" ADD CONSTRAINT "judging_due_touched" CHECK ("judging_due"."touched" in ('any', 'readings', 'parts', 'age'));
CREATE TABLE "calendar_feed" (
	"id" uuid PRIMARY KEY DEFAULT gen_random_uuid() NOT NULL,
	"person_id" text NOT NULL,
	"token_digest" text NOT NULL,
	"made_at" timestamp with time zone NOT NULL,
	CONSTRAINT "calendar_feed_personId_unique" UNIQUE("person_id"),
	CONSTRAINT "calendar_feed_tokenDigest_unique" UNIQUE("token_digest")
);
--> statement-breakpoint
CREATE TABLE "unit_absence" (
	"unit_id" text NOT NULL,
	"week" text NOT NULL,
	"reason" text NOT NULL,
	CONSTRAINT "unit_absence_unit_id_week_pk" PRIMARY KEY("unit_id","week"),
	CONSTRAINT "unit_absence_week" CHECK ("unit_absence"."week" ~ '^[0-9]{4}-W[0-9]{2}$')
);
--> statement-breakpoint
ALTER TABLE "verdict" ADD COLUMN "horizon_probability" double precision;--> statement-breakpoint
ALTER TABLE "verdict" ADD COLUMN "reading_due_on" date;--> statement-breakpoint
ALTER TABLE "work_order" ADD COLUMN "overfilled_why" text;--> statement-breakpoint
ALTER TABLE "calendar_feed" ADD CONSTRAINT "calendar_feed_person_id_person_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."person"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "unit_absence" ADD CONSTRAINT "unit_absence_unit_id_unit_id_fk" FOREIGN KEY ("unit_id") REFERENCES "public"."unit"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
UPDATE "verdict" SET
  "horizon_probability" = ("assessment" -> 'wear' ->> 'probabilityWithinHorizon')::float8,
  "reading_due_on" = DATE '1970-01-01' + ("assessment" ->> 'nextReadingDue')::float8::int
WHERE "is_current";

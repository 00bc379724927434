CREATE TABLE "import_reading" (
	"import_id" uuid NOT NULL,
	"line" integer NOT NULL,
	"digest" text NOT NULL,
	"id" uuid NOT NULL,
	"unit_id" text NOT NULL,
	"shed_id" text NOT NULL,
	"technician_id" text,
	"technician_label" text,
	"gauge_id" text,
	"read_on" date NOT NULL,
	"read_at" timestamp with time zone NOT NULL,
	"idle_vacuum_kpa" double precision,
	"raised_vacuum_kpa" double precision,
	"lowest_kpa" double precision,
	"recovery_s" double precision,
	"hold_loss_kpa" double precision,
	"hold_time_s" double precision,
	"barometer_kpa" double precision,
	"odometer_km" double precision,
	"line_state" text NOT NULL,
	"pedal" text,
	"belt" text,
	"note" text
);
--> statement-breakpoint
ALTER TABLE "import_run" ADD COLUMN "rows_digest" text;--> statement-breakpoint
ALTER TABLE "import_row" DROP COLUMN "digest";
--> statement-breakpoint
ALTER TABLE "import_reading" SET UNLOGGED;

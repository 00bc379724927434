CREATE TABLE "line_photo" (
	"reading_id" uuid PRIMARY KEY NOT NULL,
	"content" "bytea" NOT NULL,
	"digest" text NOT NULL,
	"sent_by" text NOT NULL,
	"received_at" timestamp with time zone NOT NULL,
	CONSTRAINT "line_photo_size" CHECK (length("line_photo"."content") between 1 and 500000)
);
--> statement-breakpoint
ALTER TABLE "reading" ADD COLUMN "trace" jsonb;--> statement-breakpoint
ALTER TABLE "line_photo" ADD CONSTRAINT "line_photo_reading_id_reading_id_fk" FOREIGN KEY ("reading_id") REFERENCES "public"."reading"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "line_photo" ADD CONSTRAINT "line_photo_sent_by_person_id_fk" FOREIGN KEY ("sent_by") REFERENCES "public"."person"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
REVOKE UPDATE, DELETE ON "line_photo" FROM idlemark_app;

CREATE TABLE "bulletin_attachment" (
	"bulletin_id" uuid PRIMARY KEY NOT NULL,
	"name" text NOT NULL,
	"content" "bytea" NOT NULL,
	"digest" text NOT NULL,
	"attached_by" text NOT NULL,
	"attached_at" timestamp with time zone NOT NULL,
	CONSTRAINT "bulletin_attachment_size" CHECK (length("bulletin_attachment"."content") between 1 and 5242880)
);
--> statement-breakpoint
ALTER TABLE "bulletin" DROP CONSTRAINT "bulletin_attachment";--> statement-breakpoint
ALTER TABLE "unit" ADD COLUMN "is_check_digit_required" boolean DEFAULT true NOT NULL;--> statement-breakpoint
ALTER TABLE "bulletin_attachment" ADD CONSTRAINT "bulletin_attachment_bulletin_id_bulletin_id_fk" FOREIGN KEY ("bulletin_id") REFERENCES "public"."bulletin"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "bulletin_attachment" ADD CONSTRAINT "bulletin_attachment_attached_by_person_id_fk" FOREIGN KEY ("attached_by") REFERENCES "public"."person"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "bulletin" DROP COLUMN "attachment_name";--> statement-breakpoint
ALTER TABLE "bulletin" DROP COLUMN "attachment";--> statement-breakpoint
ALTER TABLE "bulletin" ADD CONSTRAINT "bulletin_supersedes_one" UNIQUE("supersedes_id");--> statement-breakpoint
ALTER TABLE "bulletin" ADD CONSTRAINT "bulletin_required_part" CHECK ("bulletin"."required_part" in ('pump', 'belt', 'booster', 'line', 'check valve'));
ALTER TABLE "bulletin" DROP CONSTRAINT "bulletin_required_part";--> statement-breakpoint
ALTER TABLE "bulletin" ADD COLUMN "required_parts" jsonb DEFAULT '[]'::jsonb NOT NULL;--> statement-breakpoint
UPDATE "bulletin" SET "required_parts" = jsonb_build_array(jsonb_build_object(
	'part', "required_part",
	'revisions', CASE WHEN "required_revision" IS NULL THEN '[]'::jsonb ELSE jsonb_build_array("required_revision") END))
WHERE "required_part" IS NOT NULL;--> statement-breakpoint
ALTER TABLE "bulletin" DROP COLUMN "required_part";--> statement-breakpoint
ALTER TABLE "bulletin" DROP COLUMN "required_revision";
DROP INDEX "reading_technician";--> statement-breakpoint
DROP INDEX "reading_received_at";--> statement-breakpoint
ALTER TABLE "import_run" ADD COLUMN "put_progress" jsonb;
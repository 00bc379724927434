DROP INDEX "bulletin_unit_unit";--> statement-breakpoint
CREATE INDEX "bulletin_unit_status" ON "bulletin_unit" USING btree ("unit_id","bulletin_id","status");
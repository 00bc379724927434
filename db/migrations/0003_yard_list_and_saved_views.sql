CREATE TABLE "saved_view" (
	"id" uuid PRIMARY KEY DEFAULT gen_random_uuid() NOT NULL,
	"person_id" text NOT NULL,
	"name" text NOT NULL,
	"address" text NOT NULL,
	"saved_at" timestamp with time zone NOT NULL,
	CONSTRAINT "saved_view_name" UNIQUE("person_id","name"),
	CONSTRAINT "saved_view_name_length" CHECK (length("saved_view"."name") between 1 and 60),
	CONSTRAINT "saved_view_address_length" CHECK (length("saved_view"."address") <= 1000)
);
--> statement-breakpoint
DROP INDEX "verdict_current_mark";--> statement-breakpoint
ALTER TABLE "saved_view" ADD CONSTRAINT "saved_view_person_id_person_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."person"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "verdict_current_yard" ON "verdict" USING btree ("mark","earliest_edge_on","unit_id","latest_idle_kpa","latest_read_on") WHERE "verdict"."is_current";
CREATE TABLE "purged_unit" (
	"entry" bigint NOT NULL,
	"unit_id" text NOT NULL,
	"purged_at" timestamp with time zone NOT NULL,
	"readings" integer NOT NULL,
	"verdicts" integer NOT NULL,
	"spells" integer NOT NULL,
	"orders" integer NOT NULL,
	"payloads" integer NOT NULL,
	CONSTRAINT "purged_unit_unit_id_entry_pk" PRIMARY KEY("unit_id","entry")
);
--> statement-breakpoint
ALTER TABLE "purged_unit" ADD CONSTRAINT "purged_unit_entry_ledger_entry_entry_fk" FOREIGN KEY ("entry") REFERENCES "public"."ledger_entry"("entry") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "purged_unit" ADD CONSTRAINT "purged_unit_unit_id_unit_id_fk" FOREIGN KEY ("unit_id") REFERENCES "public"."unit"("id") ON DELETE no action ON UPDATE no action;
--> statement-breakpoint
REVOKE UPDATE, DELETE ON "purged_unit" FROM idlemark_app;

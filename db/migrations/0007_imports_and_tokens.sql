CREATE TABLE "api_token" (
	"id" uuid PRIMARY KEY NOT NULL,
	"label" text NOT NULL,
	"digest" text NOT NULL,
	"scopes" text[] NOT NULL,
	"person_id" text NOT NULL,
	"made_by" text NOT NULL,
	"made_at" timestamp with time zone NOT NULL,
	"expires_at" timestamp with time zone NOT NULL,
	"revoked_at" timestamp with time zone,
	CONSTRAINT "api_token_digest_unique" UNIQUE("digest"),
	CONSTRAINT "api_token_label" CHECK (length(trim("api_token"."label")) between 1 and 60),
	CONSTRAINT "api_token_scopes" CHECK (cardinality("api_token"."scopes") > 0)
);
--> statement-breakpoint
CREATE TABLE "import_mapping" (
	"kind" text NOT NULL,
	"header_digest" text NOT NULL,
	"mapping" jsonb NOT NULL,
	"changed_at" timestamp with time zone NOT NULL,
	CONSTRAINT "import_mapping_kind_header_digest_pk" PRIMARY KEY("kind","header_digest")
);
--> statement-breakpoint
CREATE TABLE "import_piece" (
	"import_id" uuid NOT NULL,
	"position" integer NOT NULL,
	"bytes" "bytea" NOT NULL,
	CONSTRAINT "import_piece_import_id_position_pk" PRIMARY KEY("import_id","position")
);
--> statement-breakpoint
CREATE TABLE "import_row" (
	"import_id" uuid NOT NULL,
	"line" integer NOT NULL,
	"outcome" text NOT NULL,
	"digest" text,
	"row" jsonb,
	"cells" jsonb,
	"problems" jsonb,
	CONSTRAINT "import_row_import_id_line_pk" PRIMARY KEY("import_id","line")
);
--> statement-breakpoint
CREATE TABLE "import_run" (
	"id" uuid PRIMARY KEY NOT NULL,
	"kind" text NOT NULL,
	"file_name" text NOT NULL,
	"byte_count" bigint NOT NULL,
	"state" text NOT NULL,
	"header" jsonb,
	"mapping" jsonb,
	"rows_read" integer DEFAULT 0 NOT NULL,
	"counts" jsonb,
	"faults" jsonb DEFAULT '[]'::jsonb NOT NULL,
	"made_by" text NOT NULL,
	"made_at" timestamp with time zone NOT NULL,
	"progress_at" timestamp with time zone NOT NULL,
	"ledger_entry" bigint,
	CONSTRAINT "import_run_state" CHECK ("import_run"."state" in ('sending', 'checking', 'checked', 'done', 'cancelled')),
	CONSTRAINT "import_run_kind" CHECK ("import_run"."kind" in ('units', 'readings', 'fitments', 'work orders')),
	CONSTRAINT "import_run_done" CHECK (("import_run"."state" = 'done') = ("import_run"."ledger_entry" is not null))
);
--> statement-breakpoint
CREATE TABLE "judging_due" (
	"unit_id" text PRIMARY KEY NOT NULL,
	"since" timestamp with time zone NOT NULL
);
--> statement-breakpoint
ALTER TABLE "api_token" ADD CONSTRAINT "api_token_person_id_person_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."person"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "api_token" ADD CONSTRAINT "api_token_made_by_person_id_fk" FOREIGN KEY ("made_by") REFERENCES "public"."person"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "import_piece" ADD CONSTRAINT "import_piece_import_id_import_run_id_fk" FOREIGN KEY ("import_id") REFERENCES "public"."import_run"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "import_run" ADD CONSTRAINT "import_run_made_by_person_id_fk" FOREIGN KEY ("made_by") REFERENCES "public"."person"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "judging_due" ADD CONSTRAINT "judging_due_unit_id_unit_id_fk" FOREIGN KEY ("unit_id") REFERENCES "public"."unit"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "api_token_person" ON "api_token" USING btree ("person_id");--> statement-breakpoint
CREATE INDEX "import_run_made_at" ON "import_run" USING btree ("made_at");
--> statement-breakpoint
ALTER TABLE "import_row" SET UNLOGGED;

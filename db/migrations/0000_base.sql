CREATE TABLE "amendment" (
	"id" uuid PRIMARY KEY NOT NULL,
	"reading_id" uuid NOT NULL,
	"before" jsonb NOT NULL,
	"after" jsonb NOT NULL,
	"keyed" jsonb NOT NULL,
	"reason" text NOT NULL,
	"state" text NOT NULL,
	"made_by" text NOT NULL,
	"made_at" timestamp with time zone NOT NULL,
	"decided_by" text,
	"decided_at" timestamp with time zone,
	CONSTRAINT "amendment_reason" CHECK (length(trim("amendment"."reason")) > 0),
	CONSTRAINT "amendment_state" CHECK ("amendment"."state" in ('asked', 'approved', 'refused')),
	CONSTRAINT "amendment_decided" CHECK (("amendment"."state" = 'asked') = ("amendment"."decided_at" is null))
);
--> statement-breakpoint
CREATE TABLE "bulletin" (
	"id" uuid PRIMARY KEY DEFAULT gen_random_uuid() NOT NULL,
	"number" text NOT NULL,
	"issue" text NOT NULL,
	"title" text NOT NULL,
	"issued_on" date NOT NULL,
	"kind" text NOT NULL,
	"due_on" date,
	"supersedes_id" uuid,
	"does_done_carry" boolean DEFAULT false NOT NULL,
	"rule" jsonb NOT NULL,
	"conditions" text NOT NULL,
	"actions" text NOT NULL,
	"hours" double precision NOT NULL,
	"required_part" text,
	"required_revision" text,
	"source" text NOT NULL,
	"attachment_name" text,
	"attachment" "bytea",
	"entered_by" text,
	"entered_at" timestamp with time zone NOT NULL,
	"approved_by" text,
	"approved_at" timestamp with time zone,
	CONSTRAINT "bulletin_number_issue" UNIQUE("number","issue"),
	CONSTRAINT "bulletin_kind" CHECK ("bulletin"."kind" in ('do not drive until done', 'mandatory', 'recommended', 'information')),
	CONSTRAINT "bulletin_due" CHECK ("bulletin"."kind" <> 'mandatory' or "bulletin"."due_on" is not null),
	CONSTRAINT "bulletin_hours" CHECK ("bulletin"."hours" >= 0 and "bulletin"."hours" < 200),
	CONSTRAINT "bulletin_attachment" CHECK (("bulletin"."attachment" is null) = ("bulletin"."attachment_name" is null))
);
--> statement-breakpoint
CREATE TABLE "bulletin_unit" (
	"bulletin_id" uuid NOT NULL,
	"unit_id" text NOT NULL,
	"applicability" text NOT NULL,
	"why" text NOT NULL,
	"missing" jsonb NOT NULL,
	"status" text NOT NULL,
	"status_by" text,
	"status_at" timestamp with time zone NOT NULL,
	"status_reason" text,
	"review_on" date,
	"work_order_id" uuid,
	"fitted_revision" text,
	CONSTRAINT "bulletin_unit_bulletin_id_unit_id_pk" PRIMARY KEY("bulletin_id","unit_id"),
	CONSTRAINT "bulletin_unit_applicability" CHECK ("bulletin_unit"."applicability" in ('applies', 'does not', 'undecided')),
	CONSTRAINT "bulletin_unit_status" CHECK ("bulletin_unit"."status" in ('undecided', 'open', 'does not apply', 'planned', 'done', 'not needed', 'refused', 'superseded'))
);
--> statement-breakpoint
CREATE TABLE "fitment" (
	"id" uuid PRIMARY KEY DEFAULT gen_random_uuid() NOT NULL,
	"unit_id" text NOT NULL,
	"part" text NOT NULL,
	"revision" text,
	"date_code" text,
	"fitted_on" date,
	"fitted_odometer_km" double precision,
	"removed_on" date,
	"removed_odometer_km" double precision,
	"why_removed" text,
	"work_order_id" uuid,
	CONSTRAINT "fitment_part" CHECK ("fitment"."part" in ('pump', 'belt', 'booster', 'line', 'check valve')),
	CONSTRAINT "fitment_why_removed" CHECK ("fitment"."why_removed" in ('failed', 'worn', 'preventive', 'repaired', 'bulletin', 'other')),
	CONSTRAINT "fitment_dates" CHECK ("fitment"."removed_on" >= "fitment"."fitted_on"),
	CONSTRAINT "fitment_removed_why" CHECK (("fitment"."removed_on" is null) = ("fitment"."why_removed" is null)),
	CONSTRAINT "fitment_fitted_odometer" CHECK ("fitment"."fitted_odometer_km" >= 0),
	CONSTRAINT "fitment_removed_odometer" CHECK ("fitment"."removed_odometer_km" >= 0)
);
--> statement-breakpoint
CREATE TABLE "fleet_prior" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "fleet_prior_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"learnt_at" timestamp with time zone NOT NULL,
	"segment_count" integer NOT NULL,
	"prior" jsonb NOT NULL
);
--> statement-breakpoint
CREATE TABLE "gauge" (
	"id" text PRIMARY KEY NOT NULL,
	"shed_id" text NOT NULL,
	"label" text NOT NULL,
	"pressure_unit" text NOT NULL,
	"is_logging" boolean DEFAULT false NOT NULL,
	"calibration_due_on" date,
	"retired_on" date
);
--> statement-breakpoint
CREATE TABLE "job_template" (
	"kind" text PRIMARY KEY NOT NULL,
	"title" text NOT NULL,
	"hours" double precision NOT NULL,
	"tools" jsonb NOT NULL,
	"part_numbers" jsonb NOT NULL,
	"steps" jsonb NOT NULL,
	"torque_nm" double precision
);
--> statement-breakpoint
CREATE TABLE "ledger_entry" (
	"entry" bigint PRIMARY KEY NOT NULL,
	"at" timestamp with time zone NOT NULL,
	"device_at" timestamp with time zone,
	"person_id" text,
	"kind" text NOT NULL,
	"unit_id" text,
	"payload_digest" text NOT NULL,
	"previous_hash" text NOT NULL,
	"hash" text NOT NULL,
	CONSTRAINT "ledger_entry_hash_unique" UNIQUE("hash")
);
--> statement-breakpoint
CREATE TABLE "ledger_payload" (
	"entry" bigint PRIMARY KEY NOT NULL,
	"canonical" text NOT NULL
);
--> statement-breakpoint
CREATE TABLE "limit_set" (
	"version" integer PRIMARY KEY NOT NULL,
	"values" jsonb NOT NULL,
	"effective_from" date NOT NULL,
	"source" text NOT NULL,
	"reason" text NOT NULL,
	"state" text NOT NULL,
	"proposed_by" text,
	"proposed_at" timestamp with time zone NOT NULL,
	"decided_by" text,
	"decided_at" timestamp with time zone,
	CONSTRAINT "limit_set_state" CHECK ("limit_set"."state" in ('proposed', 'approved', 'refused')),
	CONSTRAINT "limit_set_two_people" CHECK ("limit_set"."decided_by" <> "limit_set"."proposed_by"),
	CONSTRAINT "limit_set_decided" CHECK ("limit_set"."version" = 0 or ("limit_set"."state" = 'proposed') = ("limit_set"."decided_by" is null))
);
--> statement-breakpoint
CREATE TABLE "part_stock" (
	"part_number" text NOT NULL,
	"revision" text NOT NULL,
	"part" text NOT NULL,
	"description" text NOT NULL,
	"superseded_by" text,
	"in_stock" integer NOT NULL,
	"lead_time_days" integer NOT NULL,
	"price" double precision,
	CONSTRAINT "part_stock_part_number_revision_pk" PRIMARY KEY("part_number","revision"),
	CONSTRAINT "part_stock_counts" CHECK ("part_stock"."in_stock" >= 0 and "part_stock"."lead_time_days" >= 0)
);
--> statement-breakpoint
CREATE TABLE "person" (
	"id" text PRIMARY KEY NOT NULL,
	"name" text NOT NULL,
	"email" text NOT NULL,
	"email_verified" boolean DEFAULT false NOT NULL,
	"image" text,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL,
	"badge" text NOT NULL,
	"role" text NOT NULL,
	"role_since" timestamp with time zone DEFAULT now() NOT NULL,
	"is_active" boolean DEFAULT true NOT NULL,
	"is_outside_certifier" boolean DEFAULT false NOT NULL,
	"pressure_unit" text,
	"distance_unit" text,
	CONSTRAINT "person_email_unique" UNIQUE("email"),
	CONSTRAINT "person_badge_unique" UNIQUE("badge"),
	CONSTRAINT "person_role" CHECK ("person"."role" in ('technician', 'fleet manager', 'safety officer', 'auditor', 'admin')),
	CONSTRAINT "person_name" CHECK (length(trim("person"."name")) > 0)
);
--> statement-breakpoint
CREATE TABLE "person_shed" (
	"person_id" text NOT NULL,
	"shed_id" text NOT NULL,
	CONSTRAINT "person_shed_person_id_shed_id_pk" PRIMARY KEY("person_id","shed_id")
);
--> statement-breakpoint
CREATE TABLE "reading" (
	"id" uuid PRIMARY KEY NOT NULL,
	"entry" bigserial NOT NULL,
	"unit_id" text NOT NULL,
	"shed_id" text NOT NULL,
	"technician_id" text,
	"technician_label" text,
	"gauge_id" text,
	"read_on" date NOT NULL,
	"read_at" timestamp with time zone NOT NULL,
	"received_at" timestamp with time zone NOT NULL,
	"clock_skew_s" double precision,
	"idle_vacuum_kpa" double precision,
	"raised_vacuum_kpa" double precision,
	"lowest_kpa" double precision,
	"recovery_s" double precision,
	"is_recovery_keyed" boolean DEFAULT false NOT NULL,
	"hold_loss_kpa" double precision,
	"hold_time_s" double precision,
	"line" text NOT NULL,
	"pedal" text,
	"belt" text,
	"barometer_kpa" double precision,
	"odometer_km" double precision,
	"is_clip_tugged" boolean,
	"could_not" jsonb DEFAULT '{}'::jsonb NOT NULL,
	"keyed" jsonb DEFAULT '{}'::jsonb NOT NULL,
	"note" text,
	"is_proof" boolean DEFAULT false NOT NULL,
	"work_order_id" uuid,
	"source" text NOT NULL,
	"device_call" jsonb,
	"payload_version" integer DEFAULT 1 NOT NULL,
	"payload_digest" text NOT NULL,
	CONSTRAINT "reading_entry_unique" UNIQUE("entry"),
	CONSTRAINT "reading_line" CHECK ("reading"."line" in ('dry', 'film', 'wet', 'not seen')),
	CONSTRAINT "reading_pedal" CHECK ("reading"."pedal" in ('normal', 'went hard', 'hard')),
	CONSTRAINT "reading_belt" CHECK ("reading"."belt" in ('sound', 'cracked', 'oily', 'shredded', 'off', 'not seen')),
	CONSTRAINT "reading_idle" CHECK ("reading"."idle_vacuum_kpa" >= 0 and "reading"."idle_vacuum_kpa" <= 110),
	CONSTRAINT "reading_raised" CHECK ("reading"."raised_vacuum_kpa" >= 0 and "reading"."raised_vacuum_kpa" <= 110),
	CONSTRAINT "reading_lowest" CHECK ("reading"."lowest_kpa" >= 0 and "reading"."lowest_kpa" <= 110),
	CONSTRAINT "reading_recovery" CHECK ("reading"."recovery_s" >= 0 and "reading"."recovery_s" <= 600),
	CONSTRAINT "reading_hold_loss" CHECK ("reading"."hold_loss_kpa" >= 0 and "reading"."hold_loss_kpa" <= 110),
	CONSTRAINT "reading_hold_time" CHECK ("reading"."hold_time_s" > 0 and "reading"."hold_time_s" <= 3600),
	CONSTRAINT "reading_barometer" CHECK ("reading"."barometer_kpa" between 45 and 110),
	CONSTRAINT "reading_odometer" CHECK ("reading"."odometer_km" >= 0 and "reading"."odometer_km" < 10000000),
	CONSTRAINT "reading_who" CHECK ("reading"."technician_id" is not null or "reading"."technician_label" is not null)
);
--> statement-breakpoint
CREATE TABLE "setting" (
	"name" text PRIMARY KEY NOT NULL,
	"value" jsonb NOT NULL,
	"changed_by" text,
	"changed_at" timestamp with time zone NOT NULL
);
--> statement-breakpoint
CREATE TABLE "shed" (
	"id" text PRIMARY KEY NOT NULL,
	"name" text NOT NULL,
	"elevation_m" double precision NOT NULL,
	"time_zone" text NOT NULL,
	"pressure_unit" text NOT NULL,
	"distance_unit" text NOT NULL,
	"bay_hours_per_week" double precision NOT NULL,
	CONSTRAINT "shed_name_unique" UNIQUE("name"),
	CONSTRAINT "shed_elevation" CHECK ("shed"."elevation_m" between -450 and 5000),
	CONSTRAINT "shed_pressure_unit" CHECK ("shed"."pressure_unit" in ('psi', 'inHg', 'kPa')),
	CONSTRAINT "shed_distance_unit" CHECK ("shed"."distance_unit" in ('mi', 'km')),
	CONSTRAINT "shed_bay_hours" CHECK ("shed"."bay_hours_per_week" between 0 and 10000)
);
--> statement-breakpoint
CREATE TABLE "shed_closure" (
	"shed_id" text NOT NULL,
	"week" text NOT NULL,
	"hours_lost" double precision NOT NULL,
	"reason" text NOT NULL,
	CONSTRAINT "shed_closure_shed_id_week_pk" PRIMARY KEY("shed_id","week"),
	CONSTRAINT "shed_closure_week" CHECK ("shed_closure"."week" ~ '^[0-9]{4}-W[0-9]{2}$'),
	CONSTRAINT "shed_closure_hours" CHECK ("shed_closure"."hours_lost" > 0)
);
--> statement-breakpoint
CREATE TABLE "account" (
	"id" text PRIMARY KEY NOT NULL,
	"account_id" text NOT NULL,
	"provider_id" text NOT NULL,
	"user_id" text NOT NULL,
	"access_token" text,
	"refresh_token" text,
	"id_token" text,
	"access_token_expires_at" timestamp with time zone,
	"refresh_token_expires_at" timestamp with time zone,
	"scope" text,
	"password" text,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL
);
--> statement-breakpoint
CREATE TABLE "rate_limit" (
	"id" text PRIMARY KEY NOT NULL,
	"key" text NOT NULL,
	"count" integer NOT NULL,
	"last_request" bigint NOT NULL,
	CONSTRAINT "rate_limit_key_unique" UNIQUE("key")
);
--> statement-breakpoint
CREATE TABLE "session" (
	"id" text PRIMARY KEY NOT NULL,
	"token" text NOT NULL,
	"user_id" text NOT NULL,
	"expires_at" timestamp with time zone NOT NULL,
	"ip_address" text,
	"user_agent" text,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "session_token_unique" UNIQUE("token")
);
--> statement-breakpoint
CREATE TABLE "verification" (
	"id" text PRIMARY KEY NOT NULL,
	"identifier" text NOT NULL,
	"value" text NOT NULL,
	"expires_at" timestamp with time zone NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL
);
--> statement-breakpoint
CREATE TABLE "spell" (
	"id" uuid PRIMARY KEY DEFAULT gen_random_uuid() NOT NULL,
	"unit_id" text NOT NULL,
	"cause" text NOT NULL,
	"why" text NOT NULL,
	"note" text,
	"opened_at" timestamp with time zone NOT NULL,
	"opened_by" text,
	"reading_id" uuid,
	"bulletin_id" uuid,
	"was_warned" boolean DEFAULT false NOT NULL,
	"tag_hung_by" text,
	"tag_hung_at" timestamp with time zone,
	"work_order_id" uuid,
	"certificate" text,
	"certified_by" text,
	"certified_at" timestamp with time zone,
	"certified_note" text,
	"proof_reading_id" uuid,
	"proof_read_by" text,
	"released_by" text,
	"released_at" timestamp with time zone,
	"released_note" text,
	"is_small_shop" boolean DEFAULT false NOT NULL,
	"evidence" jsonb DEFAULT '[]'::jsonb NOT NULL,
	CONSTRAINT "spell_cause" CHECK ("spell"."cause" in ('reading past a stop limit', 'hard pedal on the road', 'oil at the booster', 'belt off', 'do-not-drive bulletin', 'proof withdrawn', 'other')),
	CONSTRAINT "spell_certified" CHECK (("spell"."certified_by" is null) = ("spell"."certified_at" is null) and ("spell"."certified_by" is null) = ("spell"."certificate" is null)),
	CONSTRAINT "spell_certifier_releases_not" CHECK ("spell"."released_by" <> "spell"."certified_by"),
	CONSTRAINT "spell_certifier_proves_not" CHECK ("spell"."proof_read_by" <> "spell"."certified_by"),
	CONSTRAINT "spell_prover_releases_not" CHECK ("spell"."is_small_shop" or "spell"."released_by" <> "spell"."proof_read_by"),
	CONSTRAINT "spell_release_is_whole" CHECK ("spell"."released_at" is null or ("spell"."released_by" is not null and "spell"."certified_by" is not null and "spell"."proof_reading_id" is not null and "spell"."proof_read_by" is not null and "spell"."certified_at" <= "spell"."released_at" and "spell"."opened_at" <= "spell"."certified_at"))
);
--> statement-breakpoint
CREATE TABLE "unit" (
	"id" text PRIMARY KEY NOT NULL,
	"shed_id" text NOT NULL,
	"vin" text,
	"make" text,
	"model" text,
	"model_year" integer,
	"body" text NOT NULL,
	"engine" text,
	"built_year" integer,
	"built_month" integer,
	"built_day" integer,
	"gvwr_kg" double precision,
	"tire_size" text,
	"odometer_unit" text NOT NULL,
	"tracked_from" date NOT NULL,
	"laid_up_on" date,
	"left_fleet_on" date,
	CONSTRAINT "unit_vin_unique" UNIQUE("vin"),
	CONSTRAINT "unit_id" CHECK ("unit"."id" ~ '^[A-Z0-9][A-Z0-9-]{0,15}$'),
	CONSTRAINT "unit_vin" CHECK ("unit"."vin" ~ '^[A-HJ-NPR-Z0-9]{17}$'),
	CONSTRAINT "unit_model_year" CHECK ("unit"."model_year" between 1980 and 2100),
	CONSTRAINT "unit_odometer_unit" CHECK ("unit"."odometer_unit" in ('mi', 'km')),
	CONSTRAINT "unit_built_year" CHECK ("unit"."built_year" between 1960 and 2100),
	CONSTRAINT "unit_built_month" CHECK ("unit"."built_month" between 1 and 12),
	CONSTRAINT "unit_built_day" CHECK ("unit"."built_day" between 1 and 31),
	CONSTRAINT "unit_built_precision" CHECK (("unit"."built_month" is null or "unit"."built_year" is not null) and ("unit"."built_day" is null or "unit"."built_month" is not null)),
	CONSTRAINT "unit_gvwr" CHECK ("unit"."gvwr_kg" > 0)
);
--> statement-breakpoint
CREATE TABLE "verdict" (
	"id" uuid PRIMARY KEY DEFAULT gen_random_uuid() NOT NULL,
	"unit_id" text NOT NULL,
	"is_current" boolean NOT NULL,
	"mark" text,
	"as_of" date NOT NULL,
	"known_to" bigint NOT NULL,
	"limits_version" integer NOT NULL,
	"fleet_prior_id" integer,
	"method_version" text NOT NULL,
	"assessment" jsonb NOT NULL,
	"judged_at" timestamp with time zone NOT NULL,
	"earliest_edge_on" date,
	"why" text NOT NULL,
	"latest_idle_kpa" double precision,
	"latest_read_on" date,
	"score" double precision,
	CONSTRAINT "verdict_mark" CHECK ("verdict"."mark" in ('Out of service', 'Book in', 'Unread', 'Proving', 'Drifting', 'Holding'))
);
--> statement-breakpoint
CREATE TABLE "work_order" (
	"id" uuid PRIMARY KEY DEFAULT gen_random_uuid() NOT NULL,
	"number" integer GENERATED ALWAYS AS IDENTITY (sequence name "work_order_number_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1001 CACHE 1),
	"unit_id" text NOT NULL,
	"state" text NOT NULL,
	"why" text NOT NULL,
	"raised_from" text NOT NULL,
	"raised_by" text,
	"raised_at" timestamp with time zone NOT NULL,
	"wanted_by" date,
	"shed_id" text,
	"week" text,
	"is_pinned" boolean DEFAULT false NOT NULL,
	"waiting_for" text,
	"waiting_until" date,
	"begun_by" text,
	"begun_at" timestamp with time zone,
	"finished_by" text,
	"finished_at" timestamp with time zone,
	"finished_odometer_km" double precision,
	"found_cause" text,
	"predicted_cause" text,
	"closed_at" timestamp with time zone,
	"withdrawn_by" text,
	"withdrawn_why" text,
	"version" integer DEFAULT 1 NOT NULL,
	CONSTRAINT "work_order_number_unique" UNIQUE("number"),
	CONSTRAINT "work_order_state_name" CHECK ("work_order"."state" in ('raised', 'placed', 'begun', 'waiting', 'finished', 'closed', 'withdrawn')),
	CONSTRAINT "work_order_week_form" CHECK ("work_order"."week" ~ '^[0-9]{4}-W[0-9]{2}$'),
	CONSTRAINT "work_order_placed" CHECK ("work_order"."state" <> 'placed' or ("work_order"."week" is not null and "work_order"."shed_id" is not null)),
	CONSTRAINT "work_order_waiting" CHECK ("work_order"."state" <> 'waiting' or "work_order"."waiting_for" is not null),
	CONSTRAINT "work_order_finished" CHECK ("work_order"."state" not in ('finished', 'closed') or ("work_order"."finished_by" is not null and "work_order"."finished_at" is not null)),
	CONSTRAINT "work_order_withdrawn" CHECK (("work_order"."state" = 'withdrawn') = ("work_order"."withdrawn_why" is not null))
);
--> statement-breakpoint
CREATE TABLE "work_task" (
	"id" uuid PRIMARY KEY DEFAULT gen_random_uuid() NOT NULL,
	"work_order_id" uuid NOT NULL,
	"position" integer NOT NULL,
	"kind" text NOT NULL,
	"title" text NOT NULL,
	"hours" double precision NOT NULL,
	"state" text DEFAULT 'open' NOT NULL,
	"struck_why" text,
	"part_number" text,
	"part_revision" text,
	"torque_nm" double precision,
	"bulletin_id" uuid,
	"done_by" text,
	"done_at" timestamp with time zone,
	CONSTRAINT "work_task_kind" CHECK ("work_task"."kind" in ('pump', 'belt', 'booster and line', 'line', 'check valve', 'leak search', 'bulletin', 'reading', 'proof')),
	CONSTRAINT "work_task_state" CHECK ("work_task"."state" in ('open', 'done', 'struck')),
	CONSTRAINT "work_task_hours" CHECK ("work_task"."hours" >= 0 and "work_task"."hours" < 200),
	CONSTRAINT "work_task_struck" CHECK (("work_task"."state" = 'struck') = ("work_task"."struck_why" is not null))
);
--> statement-breakpoint
ALTER TABLE "amendment" ADD CONSTRAINT "amendment_reading_id_reading_id_fk" FOREIGN KEY ("reading_id") REFERENCES "public"."reading"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "amendment" ADD CONSTRAINT "amendment_made_by_person_id_fk" FOREIGN KEY ("made_by") REFERENCES "public"."person"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "amendment" ADD CONSTRAINT "amendment_decided_by_person_id_fk" FOREIGN KEY ("decided_by") REFERENCES "public"."person"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "bulletin" ADD CONSTRAINT "bulletin_supersedes_id_bulletin_id_fk" FOREIGN KEY ("supersedes_id") REFERENCES "public"."bulletin"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "bulletin" ADD CONSTRAINT "bulletin_entered_by_person_id_fk" FOREIGN KEY ("entered_by") REFERENCES "public"."person"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "bulletin" ADD CONSTRAINT "bulletin_approved_by_person_id_fk" FOREIGN KEY ("approved_by") REFERENCES "public"."person"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "bulletin_unit" ADD CONSTRAINT "bulletin_unit_bulletin_id_bulletin_id_fk" FOREIGN KEY ("bulletin_id") REFERENCES "public"."bulletin"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "bulletin_unit" ADD CONSTRAINT "bulletin_unit_unit_id_unit_id_fk" FOREIGN KEY ("unit_id") REFERENCES "public"."unit"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "bulletin_unit" ADD CONSTRAINT "bulletin_unit_status_by_person_id_fk" FOREIGN KEY ("status_by") REFERENCES "public"."person"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "bulletin_unit" ADD CONSTRAINT "bulletin_unit_work_order_id_work_order_id_fk" FOREIGN KEY ("work_order_id") REFERENCES "public"."work_order"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "fitment" ADD CONSTRAINT "fitment_unit_id_unit_id_fk" FOREIGN KEY ("unit_id") REFERENCES "public"."unit"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "fitment" ADD CONSTRAINT "fitment_work_order_id_work_order_id_fk" FOREIGN KEY ("work_order_id") REFERENCES "public"."work_order"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "gauge" ADD CONSTRAINT "gauge_shed_id_shed_id_fk" FOREIGN KEY ("shed_id") REFERENCES "public"."shed"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "ledger_payload" ADD CONSTRAINT "ledger_payload_entry_ledger_entry_entry_fk" FOREIGN KEY ("entry") REFERENCES "public"."ledger_entry"("entry") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "limit_set" ADD CONSTRAINT "limit_set_proposed_by_person_id_fk" FOREIGN KEY ("proposed_by") REFERENCES "public"."person"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "limit_set" ADD CONSTRAINT "limit_set_decided_by_person_id_fk" FOREIGN KEY ("decided_by") REFERENCES "public"."person"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "person_shed" ADD CONSTRAINT "person_shed_person_id_person_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."person"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "person_shed" ADD CONSTRAINT "person_shed_shed_id_shed_id_fk" FOREIGN KEY ("shed_id") REFERENCES "public"."shed"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "reading" ADD CONSTRAINT "reading_unit_id_unit_id_fk" FOREIGN KEY ("unit_id") REFERENCES "public"."unit"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "reading" ADD CONSTRAINT "reading_shed_id_shed_id_fk" FOREIGN KEY ("shed_id") REFERENCES "public"."shed"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "reading" ADD CONSTRAINT "reading_technician_id_person_id_fk" FOREIGN KEY ("technician_id") REFERENCES "public"."person"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "reading" ADD CONSTRAINT "reading_gauge_id_gauge_id_fk" FOREIGN KEY ("gauge_id") REFERENCES "public"."gauge"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "reading" ADD CONSTRAINT "reading_work_order_id_work_order_id_fk" FOREIGN KEY ("work_order_id") REFERENCES "public"."work_order"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "shed_closure" ADD CONSTRAINT "shed_closure_shed_id_shed_id_fk" FOREIGN KEY ("shed_id") REFERENCES "public"."shed"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "account" ADD CONSTRAINT "account_user_id_person_id_fk" FOREIGN KEY ("user_id") REFERENCES "public"."person"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "session" ADD CONSTRAINT "session_user_id_person_id_fk" FOREIGN KEY ("user_id") REFERENCES "public"."person"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "spell" ADD CONSTRAINT "spell_unit_id_unit_id_fk" FOREIGN KEY ("unit_id") REFERENCES "public"."unit"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "spell" ADD CONSTRAINT "spell_opened_by_person_id_fk" FOREIGN KEY ("opened_by") REFERENCES "public"."person"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "spell" ADD CONSTRAINT "spell_reading_id_reading_id_fk" FOREIGN KEY ("reading_id") REFERENCES "public"."reading"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "spell" ADD CONSTRAINT "spell_bulletin_id_bulletin_id_fk" FOREIGN KEY ("bulletin_id") REFERENCES "public"."bulletin"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "spell" ADD CONSTRAINT "spell_tag_hung_by_person_id_fk" FOREIGN KEY ("tag_hung_by") REFERENCES "public"."person"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "spell" ADD CONSTRAINT "spell_work_order_id_work_order_id_fk" FOREIGN KEY ("work_order_id") REFERENCES "public"."work_order"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "spell" ADD CONSTRAINT "spell_certified_by_person_id_fk" FOREIGN KEY ("certified_by") REFERENCES "public"."person"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "spell" ADD CONSTRAINT "spell_proof_reading_id_reading_id_fk" FOREIGN KEY ("proof_reading_id") REFERENCES "public"."reading"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "spell" ADD CONSTRAINT "spell_proof_read_by_person_id_fk" FOREIGN KEY ("proof_read_by") REFERENCES "public"."person"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "spell" ADD CONSTRAINT "spell_released_by_person_id_fk" FOREIGN KEY ("released_by") REFERENCES "public"."person"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "unit" ADD CONSTRAINT "unit_shed_id_shed_id_fk" FOREIGN KEY ("shed_id") REFERENCES "public"."shed"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "verdict" ADD CONSTRAINT "verdict_unit_id_unit_id_fk" FOREIGN KEY ("unit_id") REFERENCES "public"."unit"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "verdict" ADD CONSTRAINT "verdict_limits_version_limit_set_version_fk" FOREIGN KEY ("limits_version") REFERENCES "public"."limit_set"("version") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "verdict" ADD CONSTRAINT "verdict_fleet_prior_id_fleet_prior_id_fk" FOREIGN KEY ("fleet_prior_id") REFERENCES "public"."fleet_prior"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "work_order" ADD CONSTRAINT "work_order_unit_id_unit_id_fk" FOREIGN KEY ("unit_id") REFERENCES "public"."unit"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "work_order" ADD CONSTRAINT "work_order_raised_by_person_id_fk" FOREIGN KEY ("raised_by") REFERENCES "public"."person"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "work_order" ADD CONSTRAINT "work_order_shed_id_shed_id_fk" FOREIGN KEY ("shed_id") REFERENCES "public"."shed"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "work_order" ADD CONSTRAINT "work_order_begun_by_person_id_fk" FOREIGN KEY ("begun_by") REFERENCES "public"."person"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "work_order" ADD CONSTRAINT "work_order_finished_by_person_id_fk" FOREIGN KEY ("finished_by") REFERENCES "public"."person"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "work_order" ADD CONSTRAINT "work_order_withdrawn_by_person_id_fk" FOREIGN KEY ("withdrawn_by") REFERENCES "public"."person"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "work_task" ADD CONSTRAINT "work_task_work_order_id_work_order_id_fk" FOREIGN KEY ("work_order_id") REFERENCES "public"."work_order"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "work_task" ADD CONSTRAINT "work_task_bulletin_id_bulletin_id_fk" FOREIGN KEY ("bulletin_id") REFERENCES "public"."bulletin"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "work_task" ADD CONSTRAINT "work_task_done_by_person_id_fk" FOREIGN KEY ("done_by") REFERENCES "public"."person"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "amendment_reading" ON "amendment" USING btree ("reading_id");--> statement-breakpoint
CREATE INDEX "bulletin_unit_unit" ON "bulletin_unit" USING btree ("unit_id");--> statement-breakpoint
CREATE INDEX "fitment_unit" ON "fitment" USING btree ("unit_id");--> statement-breakpoint
CREATE INDEX "fitment_work_order" ON "fitment" USING btree ("work_order_id");--> statement-breakpoint
CREATE UNIQUE INDEX "fitment_fitted_now" ON "fitment" USING btree ("unit_id","part") WHERE "fitment"."removed_on" is null;--> statement-breakpoint
CREATE INDEX "ledger_entry_unit" ON "ledger_entry" USING btree ("unit_id","entry");--> statement-breakpoint
CREATE INDEX "ledger_entry_person" ON "ledger_entry" USING btree ("person_id","entry");--> statement-breakpoint
CREATE INDEX "ledger_entry_kind" ON "ledger_entry" USING btree ("kind","entry");--> statement-breakpoint
CREATE UNIQUE INDEX "limit_set_one_proposal" ON "limit_set" USING btree ("state") WHERE "limit_set"."state" = 'proposed';--> statement-breakpoint
CREATE INDEX "reading_unit_read_on" ON "reading" USING btree ("unit_id","read_on");--> statement-breakpoint
CREATE INDEX "reading_technician" ON "reading" USING btree ("technician_id");--> statement-breakpoint
CREATE INDEX "reading_received_at" ON "reading" USING btree ("received_at");--> statement-breakpoint
CREATE INDEX "account_user" ON "account" USING btree ("user_id");--> statement-breakpoint
CREATE INDEX "session_user" ON "session" USING btree ("user_id");--> statement-breakpoint
CREATE INDEX "spell_unit" ON "spell" USING btree ("unit_id");--> statement-breakpoint
CREATE UNIQUE INDEX "spell_one_open" ON "spell" USING btree ("unit_id") WHERE "spell"."released_at" is null;--> statement-breakpoint
CREATE INDEX "unit_shed" ON "unit" USING btree ("shed_id");--> statement-breakpoint
CREATE UNIQUE INDEX "verdict_current" ON "verdict" USING btree ("unit_id") WHERE "verdict"."is_current";--> statement-breakpoint
CREATE INDEX "verdict_current_mark" ON "verdict" USING btree ("mark","earliest_edge_on","unit_id") WHERE "verdict"."is_current";--> statement-breakpoint
CREATE INDEX "verdict_unit_judged_at" ON "verdict" USING btree ("unit_id","judged_at");--> statement-breakpoint
CREATE INDEX "work_order_unit" ON "work_order" USING btree ("unit_id");--> statement-breakpoint
CREATE INDEX "work_order_week" ON "work_order" USING btree ("week","shed_id");--> statement-breakpoint
CREATE INDEX "work_order_state" ON "work_order" USING btree ("state");--> statement-breakpoint
CREATE INDEX "work_task_work_order" ON "work_task" USING btree ("work_order_id");--> statement-breakpoint
CREATE INDEX "work_task_bulletin" ON "work_task" USING btree ("bulletin_id");
-- The application works as a role that can add to the record but never change or remove it.
DO $$ BEGIN
  IF NOT EXISTS (SELECT FROM pg_roles WHERE rolname = 'idlemark_app') THEN
    CREATE ROLE idlemark_app NOLOGIN;
  END IF;
EXCEPTION WHEN duplicate_object OR unique_violation THEN NULL;
END $$;
--> statement-breakpoint
DO $$ BEGIN
  EXECUTE format('GRANT idlemark_app TO %I', current_user);
EXCEPTION WHEN insufficient_privilege THEN
  -- Whoever made the role may have granted it already.
  IF NOT pg_has_role('idlemark_app', 'member') THEN RAISE; END IF;
END $$;
--> statement-breakpoint
GRANT USAGE ON SCHEMA public TO idlemark_app;
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON ALL TABLES IN SCHEMA public TO idlemark_app;
--> statement-breakpoint
GRANT USAGE, SELECT ON ALL SEQUENCES IN SCHEMA public TO idlemark_app;
--> statement-breakpoint
ALTER DEFAULT PRIVILEGES IN SCHEMA public GRANT SELECT, INSERT, UPDATE, DELETE ON TABLES TO idlemark_app;
--> statement-breakpoint
ALTER DEFAULT PRIVILEGES IN SCHEMA public GRANT USAGE, SELECT ON SEQUENCES TO idlemark_app;
--> statement-breakpoint
REVOKE UPDATE, DELETE ON ledger_entry, ledger_payload, reading FROM idlemark_app;
--> statement-breakpoint
CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION '% of % is refused: the record is only added to', TG_OP, TG_TABLE_NAME
    USING ERRCODE = 'insufficient_privilege';
END $$;
--> statement-breakpoint
CREATE TRIGGER ledger_entry_is_final BEFORE UPDATE OR DELETE ON ledger_entry
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
--> statement-breakpoint
CREATE TRIGGER ledger_entry_keeps_rows BEFORE TRUNCATE ON ledger_entry
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
--> statement-breakpoint
CREATE TRIGGER ledger_payload_is_final BEFORE UPDATE ON ledger_payload
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
--> statement-breakpoint
CREATE TRIGGER reading_is_final BEFORE UPDATE ON reading
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
--> statement-breakpoint
-- A release is final: no write of any kind reopens or rewrites a spell that has ended.
CREATE FUNCTION keep_released_spell() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF OLD.released_at IS NOT NULL AND
     to_jsonb(NEW) - 'evidence' IS DISTINCT FROM to_jsonb(OLD) - 'evidence' THEN
    RAISE EXCEPTION 'spell % has ended: open a new one', OLD.id USING ERRCODE = 'insufficient_privilege';
  END IF;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER spell_release_is_final BEFORE UPDATE ON spell
  FOR EACH ROW EXECUTE FUNCTION keep_released_spell();
--> statement-breakpoint
REVOKE DELETE ON spell, verdict, amendment, limit_set FROM idlemark_app;

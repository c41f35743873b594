-- What the database itself decides: rules that hold whatever the number of servers and callers.

-- One shop, one setup code.
ALTER TABLE "shop" ADD CONSTRAINT "shop_is_one" CHECK ("id" = 1);
ALTER TABLE "setup_code" ADD CONSTRAINT "setup_code_is_one" CHECK ("id" = 1);

-- Opening hours are a real span of a real weekday.
ALTER TABLE "opening_hours" ADD CONSTRAINT "opening_hours_span"
  CHECK ("weekday" BETWEEN 1 AND 7 AND "opens_minute" >= 0 AND "closes_minute" <= 1440 AND "opens_minute" < "closes_minute");

-- Two live runs never overlap in one tank; a load may go in the moment another comes out.
ALTER TABLE "run" ADD CONSTRAINT "run_span" CHECK ("starts_at" < "ends_at");
ALTER TABLE "run" ADD CONSTRAINT "run_tank_free"
  EXCLUDE USING gist ("tank_id" WITH =, tstzrange("starts_at", "ends_at", '[)') WITH &&)
  WHERE ("state" IN ('PLANNED', 'RUNNING'));
-- A run that overruns its booking still holds its tank.
CREATE UNIQUE INDEX "run_one_running_a_tank" ON "run" ("tank_id") WHERE "state" = 'RUNNING';

-- One live bath a tank.
CREATE UNIQUE INDEX "bath_one_live_a_tank" ON "bath" ("tank_id") WHERE "disposed_at" IS NULL;
ALTER TABLE "bath" ADD CONSTRAINT "bath_amounts"
  CHECK ("volume_l" > 0 AND "carbonate_g" >= 0 AND "bicarbonate_g" >= 0 AND "charge_ah" >= 0);
ALTER TABLE "anode" ADD CONSTRAINT "anode_amounts"
  CHECK ("initial_mass_g" > 0 AND "wetted_area_m2" > 0 AND "replace_at_share" > 0 AND "replace_at_share" <= 1
         AND "loss_factor" BETWEEN 0 AND 1);

-- One version of a quote is the live one.
CREATE UNIQUE INDEX "quote_version_one_live" ON "quote_version" ("quote_id")
  WHERE "state" IN ('DRAFT', 'SENT', 'ACCEPTED');
ALTER TABLE "quote_version" ADD CONSTRAINT "quote_version_adds_up"
  CHECK ("total_minor" = "net_minor" + "tax_minor");

-- Nobody works no minutes, or more than a day at a stretch.
ALTER TABLE "labour_entry" ADD CONSTRAINT "labour_entry_minutes" CHECK ("minutes" > 0 AND "minutes" <= 1440);

-- ------------------------------------------------------------------ stock
ALTER TABLE "lot" ADD CONSTRAINT "lot_amounts"
  CHECK ("quantity" > 0 AND "on_hand" >= 0 AND "cost_minor" >= 0);
ALTER TABLE "ledger_entry" ADD CONSTRAINT "ledger_entry_sign" CHECK (
  "quantity" <> 0
  AND ("kind" <> 'RECEIVED' OR "quantity" > 0)
  AND ("kind" NOT IN ('USED', 'SPOILED') OR "quantity" < 0)
);

-- Every entry moves its lot's on-hand amount in the same statement. The row lock of this UPDATE lines up
-- simultaneous callers, and lot_amounts refuses the one that would take more than there is.
CREATE FUNCTION ledger_entry_moves_lot() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  UPDATE "lot" SET "on_hand" = "on_hand" + NEW."quantity"
   WHERE "id" = NEW."lot_id" AND "item_id" = NEW."item_id";
  IF NOT FOUND THEN
    RAISE EXCEPTION 'ledger entry names a lot of another item' USING ERRCODE = '23503';
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER "ledger_entry_moves_lot" AFTER INSERT ON "ledger_entry"
  FOR EACH ROW EXECUTE FUNCTION ledger_entry_moves_lot();

-- A lot's on-hand amount changes through the ledger only.
CREATE FUNCTION lot_on_hand_by_ledger() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NEW."on_hand" <> OLD."on_hand" AND pg_trigger_depth() < 2 THEN
    RAISE EXCEPTION 'a lot''s on-hand amount is changed by ledger entries only' USING ERRCODE = '23514';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "lot_on_hand_by_ledger" BEFORE UPDATE ON "lot"
  FOR EACH ROW EXECUTE FUNCTION lot_on_hand_by_ledger();
CREATE FUNCTION lot_starts_empty() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NEW."on_hand" <> 0 THEN
    RAISE EXCEPTION 'a lot starts empty: receive it with a ledger entry' USING ERRCODE = '23514';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "lot_starts_empty" BEFORE INSERT ON "lot"
  FOR EACH ROW EXECUTE FUNCTION lot_starts_empty();

-- ------------------------------------------------------------------ append-only
CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION '% is append-only: write a new row that corrects it', TG_TABLE_NAME USING ERRCODE = '23514';
END $$;
CREATE TRIGGER "ledger_entry_append_only" BEFORE UPDATE OR DELETE ON "ledger_entry"
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "ledger_entry_no_truncate" BEFORE TRUNCATE ON "ledger_entry"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "audit_entry_append_only" BEFORE UPDATE OR DELETE ON "audit_entry"
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "audit_entry_no_truncate" BEFORE TRUNCATE ON "audit_entry"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- ------------------------------------------------------------------ live boards
-- Every change that a board shows is announced at commit, whoever wrote it; the payload names the table and row only.
CREATE FUNCTION announce_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM pg_notify('shop_changes', TG_TABLE_NAME || ':' || COALESCE(NEW."id", OLD."id")::text);
  RETURN NULL;
END $$;
CREATE TRIGGER "run_announced" AFTER INSERT OR UPDATE OR DELETE ON "run"
  FOR EACH ROW EXECUTE FUNCTION announce_change();
CREATE TRIGGER "reading_announced" AFTER INSERT ON "reading"
  FOR EACH ROW EXECUTE FUNCTION announce_change();
CREATE TRIGGER "bath_announced" AFTER INSERT OR UPDATE ON "bath"
  FOR EACH ROW EXECUTE FUNCTION announce_change();
CREATE TRIGGER "anode_announced" AFTER INSERT OR UPDATE ON "anode"
  FOR EACH ROW EXECUTE FUNCTION announce_change();
CREATE TRIGGER "tank_announced" AFTER INSERT OR UPDATE ON "tank"
  FOR EACH ROW EXECUTE FUNCTION announce_change();

-- ------------------------------------------------------------------ numbers without gaps
INSERT INTO "counter" ("name", "value") VALUES ('job', 0), ('quote', 0), ('run', 0);

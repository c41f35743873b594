-- AlterTable
ALTER TABLE "ledger_entry" ADD COLUMN     "corrects_id" UUID,
ADD COLUMN     "written_at" TIMESTAMPTZ(3) NOT NULL DEFAULT clock_timestamp();

-- AlterTable
ALTER TABLE "lot" ADD COLUMN     "value_minor" INTEGER NOT NULL DEFAULT 0;

-- CreateTable
CREATE TABLE "stock_count" (
    "id" UUID NOT NULL,
    "item_id" UUID NOT NULL,
    "lot_id" UUID,
    "counted_at" TIMESTAMPTZ(3) NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "counted" DECIMAL(14,3) NOT NULL,
    "expected" DECIMAL(14,3) NOT NULL,
    "cost_minor" INTEGER NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "entered_by_id" UUID NOT NULL,
    "idempotency_key" TEXT,

    CONSTRAINT "stock_count_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "stock_count_idempotency_key_key" ON "stock_count"("idempotency_key");

-- CreateIndex
CREATE INDEX "stock_count_at_idx" ON "stock_count"("at");

-- CreateIndex
CREATE INDEX "stock_count_item_id_at_idx" ON "stock_count"("item_id", "at");

-- CreateIndex
CREATE UNIQUE INDEX "ledger_entry_corrects_id_key" ON "ledger_entry"("corrects_id");

-- AddForeignKey
ALTER TABLE "ledger_entry" ADD CONSTRAINT "ledger_entry_corrects_id_fkey" FOREIGN KEY ("corrects_id") REFERENCES "ledger_entry"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "stock_count" ADD CONSTRAINT "stock_count_item_id_fkey" FOREIGN KEY ("item_id") REFERENCES "item"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "stock_count" ADD CONSTRAINT "stock_count_lot_id_fkey" FOREIGN KEY ("lot_id") REFERENCES "lot"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "stock_count" ADD CONSTRAINT "stock_count_entered_by_id_fkey" FOREIGN KEY ("entered_by_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ------------------------------------------------------------------ by hand from here
-- Lines written before this were written when they happened, as far as anybody can tell now.
ALTER TABLE "ledger_entry" DISABLE TRIGGER "ledger_entry_append_only";
UPDATE "ledger_entry" SET "written_at" = "at";
ALTER TABLE "ledger_entry" ENABLE TRIGGER "ledger_entry_append_only";

-- A correction is the line it corrects with both signs turned, and keeps its kind and everything that it was for:
-- whoever sums lines of one kind, run, job, tank or span of time gets the corrected sum without knowing of corrections.
ALTER TABLE "ledger_entry" DROP CONSTRAINT "ledger_entry_sign";
ALTER TABLE "ledger_entry" ADD CONSTRAINT "ledger_entry_sign" CHECK (
  "quantity" <> 0
  AND ("corrects_id" IS NOT NULL OR (
    ("kind" NOT IN ('RECEIVED', 'RETURNED') OR "quantity" > 0)
    AND ("kind" NOT IN ('USED', 'SPOILED') OR "quantity" < 0)
  ))
);
-- What comes in never takes value out, and the other way round.
ALTER TABLE "ledger_entry" ADD CONSTRAINT "ledger_entry_cost_sign" CHECK (
  ("quantity" > 0 AND "cost_minor" >= 0) OR ("quantity" < 0 AND "cost_minor" <= 0)
);
CREATE FUNCTION correction_turns_its_line() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  line "ledger_entry";
BEGIN
  -- No lock: what is corrected never changes, and the unique index lets one of two corrections in.
  SELECT * INTO line FROM "ledger_entry" WHERE "id" = NEW."corrects_id";
  IF line."corrects_id" IS NOT NULL
     OR (NEW."item_id", NEW."lot_id", NEW."kind", NEW."at", NEW."quantity", NEW."cost_minor",
         NEW."run_id", NEW."job_id", NEW."tank_id")
        IS DISTINCT FROM
        (line."item_id", line."lot_id", line."kind", line."at", -line."quantity", -line."cost_minor",
         line."run_id", line."job_id", line."tank_id") THEN
    RAISE EXCEPTION 'constraint "correction_turns_its_line": a correction is its line with both signs turned, and is not corrected itself'
      USING ERRCODE = '23514', CONSTRAINT = 'correction_turns_its_line';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "correction_turns_its_line" BEFORE INSERT ON "ledger_entry"
  FOR EACH ROW WHEN (NEW."corrects_id" IS NOT NULL) EXECUTE FUNCTION correction_turns_its_line();

-- A lot's value is moved with its amount, by the same statement, so that a check of the row holds both.
CREATE OR REPLACE FUNCTION ledger_entry_moves_lot() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  UPDATE "lot" SET "on_hand" = "on_hand" + NEW."quantity", "value_minor" = "value_minor" + NEW."cost_minor"
   WHERE "id" = NEW."lot_id" AND "item_id" = NEW."item_id";
  IF NOT FOUND THEN
    RAISE EXCEPTION 'ledger entry names a lot of another item' USING ERRCODE = '23503';
  END IF;
  RETURN NULL;
END $$;
UPDATE "lot" SET "value_minor" = coalesce(
  (SELECT sum("cost_minor") FROM "ledger_entry" WHERE "lot_id" = "lot"."id"), 0);
ALTER TABLE "lot" ADD CONSTRAINT "lot_value"
  CHECK ("value_minor" >= 0 AND ("on_hand" > 0 OR "value_minor" = 0));
CREATE OR REPLACE FUNCTION lot_on_hand_by_ledger() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF (NEW."on_hand", NEW."value_minor") IS DISTINCT FROM (OLD."on_hand", OLD."value_minor")
     AND pg_trigger_depth() < 2 THEN
    RAISE EXCEPTION 'a lot''s on-hand amount and its value are changed by ledger entries only' USING ERRCODE = '23514';
  END IF;
  IF NEW."item_id" <> OLD."item_id" THEN
    RAISE EXCEPTION 'a lot stays with its item: its entries name it' USING ERRCODE = '23514';
  END IF;
  RETURN NEW;
END $$;
CREATE OR REPLACE FUNCTION lot_starts_empty() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NEW."on_hand" <> 0 OR NEW."value_minor" <> 0 THEN
    RAISE EXCEPTION 'a lot starts empty: receive it with a ledger entry' USING ERRCODE = '23514';
  END IF;
  RETURN NEW;
END $$;

-- ------------------------------------------------------------------ counts
ALTER TABLE "stock_count" ADD CONSTRAINT "stock_count_amounts" CHECK (
  "counted" >= 0 AND "expected" >= 0 AND "counted_at" <= "at"
);
CREATE TRIGGER "stock_count_append_only" BEFORE UPDATE OR DELETE ON "stock_count"
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "stock_count_no_truncate" BEFORE TRUNCATE ON "stock_count"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

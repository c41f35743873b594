-- CreateEnum
CREATE TYPE "ReorderMode" AS ENUM ('BY_HAND', 'WORKED_OUT');

-- CreateEnum
CREATE TYPE "PurchaseState" AS ENUM ('DRAFT', 'ORDERED', 'RECEIVED', 'CANCELLED');

-- AlterTable
ALTER TABLE "lot" ADD COLUMN     "purchase_line_id" UUID;

-- CreateTable
CREATE TABLE "supplier" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "email" TEXT NOT NULL DEFAULT '',
    "phone" TEXT NOT NULL DEFAULT '',
    "note" TEXT NOT NULL DEFAULT '',
    "lead_days" DOUBLE PRECISION,
    "order_cost_minor" INTEGER,
    "created_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "supplier_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "reorder_policy" (
    "item_id" UUID NOT NULL,
    "mode" "ReorderMode" NOT NULL DEFAULT 'BY_HAND',
    "service_level" DOUBLE PRECISION NOT NULL DEFAULT 0.95,
    "holding_percent" DOUBLE PRECISION,
    "holding_minor" DOUBLE PRECISION,
    "order_cost_minor" INTEGER,

    CONSTRAINT "reorder_policy_pkey" PRIMARY KEY ("item_id")
);

-- CreateTable
CREATE TABLE "purchase_order" (
    "id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "supplier_name" TEXT NOT NULL,
    "state" "PurchaseState" NOT NULL DEFAULT 'DRAFT',
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "created_by_id" UUID NOT NULL,
    "ordered_at" TIMESTAMPTZ(3),
    "expected_on" DATE,
    "closed_at" TIMESTAMPTZ(3),
    "note" TEXT NOT NULL DEFAULT '',

    CONSTRAINT "purchase_order_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "purchase_line" (
    "id" UUID NOT NULL,
    "order_id" UUID NOT NULL,
    "item_id" UUID NOT NULL,
    "quantity" DECIMAL(14,3) NOT NULL,
    "pack_quantity" DECIMAL(14,3),
    "expected_minor" INTEGER,

    CONSTRAINT "purchase_line_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "purchase_order_number_key" ON "purchase_order"("number");

-- CreateIndex
CREATE INDEX "purchase_order_state_created_at_idx" ON "purchase_order"("state", "created_at");

-- CreateIndex
CREATE INDEX "purchase_line_item_id_idx" ON "purchase_line"("item_id");

-- CreateIndex
CREATE UNIQUE INDEX "purchase_line_order_id_item_id_key" ON "purchase_line"("order_id", "item_id");

-- CreateIndex
CREATE INDEX "lot_purchase_line_id_idx" ON "lot"("purchase_line_id");

-- AddForeignKey
ALTER TABLE "lot" ADD CONSTRAINT "lot_purchase_line_id_fkey" FOREIGN KEY ("purchase_line_id") REFERENCES "purchase_line"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "reorder_policy" ADD CONSTRAINT "reorder_policy_item_id_fkey" FOREIGN KEY ("item_id") REFERENCES "item"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "purchase_order" ADD CONSTRAINT "purchase_order_created_by_id_fkey" FOREIGN KEY ("created_by_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "purchase_line" ADD CONSTRAINT "purchase_line_order_id_fkey" FOREIGN KEY ("order_id") REFERENCES "purchase_order"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "purchase_line" ADD CONSTRAINT "purchase_line_item_id_fkey" FOREIGN KEY ("item_id") REFERENCES "item"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ------------------------------------------------------------------ what the database decides
-- One row a supplier, and one draft a supplier: of two who begin a list at once, the second writes on the first's.
CREATE UNIQUE INDEX "supplier_name_once" ON "supplier" (lower("name"));
CREATE UNIQUE INDEX "purchase_order_one_draft" ON "purchase_order" (lower("supplier_name")) WHERE "state" = 'DRAFT';

ALTER TABLE "supplier" ADD CONSTRAINT "supplier_amounts" CHECK (
  btrim("name") <> '' AND ("lead_days" IS NULL OR "lead_days" BETWEEN 0 AND 730)
  AND ("order_cost_minor" IS NULL OR "order_cost_minor" >= 0));
ALTER TABLE "reorder_policy" ADD CONSTRAINT "reorder_policy_amounts" CHECK (
  "service_level" BETWEEN 0.5 AND 0.999
  AND ("holding_percent" IS NULL OR "holding_minor" IS NULL)
  AND ("holding_percent" IS NULL OR "holding_percent" BETWEEN 0 AND 1000)
  AND ("holding_minor" IS NULL OR "holding_minor" >= 0)
  AND ("order_cost_minor" IS NULL OR "order_cost_minor" >= 0));
ALTER TABLE "purchase_line" ADD CONSTRAINT "purchase_line_amounts" CHECK (
  "quantity" > 0 AND ("pack_quantity" IS NULL OR "pack_quantity" > 0)
  AND ("expected_minor" IS NULL OR "expected_minor" >= 0));
ALTER TABLE "purchase_order" ADD CONSTRAINT "purchase_order_times" CHECK (
  ("state" IN ('ORDERED', 'RECEIVED')) <= ("ordered_at" IS NOT NULL)
  AND ("state" = 'DRAFT') <= ("ordered_at" IS NULL)
  AND ("state" = 'RECEIVED') <= ("closed_at" IS NOT NULL));

-- A list goes from one state to the next, and back only while nothing of it has come. FOR UPDATE of the list is taken
-- by whoever changes or receives it, so that what this reads is what is there.
CREATE FUNCTION purchase_order_steps() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NEW."number" <> OLD."number" OR NEW."supplier_name" <> OLD."supplier_name" THEN
    RAISE EXCEPTION 'a list keeps its number and its supplier' USING ERRCODE = '23514';
  END IF;
  IF NEW."state" = OLD."state" THEN RETURN NEW; END IF;
  IF (OLD."state", NEW."state") NOT IN
     (('DRAFT', 'ORDERED'), ('DRAFT', 'CANCELLED'), ('ORDERED', 'DRAFT'), ('ORDERED', 'RECEIVED'),
      ('ORDERED', 'CANCELLED'), ('CANCELLED', 'DRAFT')) THEN
    RAISE EXCEPTION 'constraint "purchase_order_steps": a list does not go from % to %', OLD."state", NEW."state"
      USING ERRCODE = '23514', CONSTRAINT = 'purchase_order_steps';
  END IF;
  IF NEW."state" IN ('DRAFT', 'CANCELLED') AND EXISTS (
       SELECT 1 FROM "lot" l JOIN "purchase_line" p ON p."id" = l."purchase_line_id" WHERE p."order_id" = NEW."id") THEN
    RAISE EXCEPTION 'constraint "purchase_order_come": some of it has come' USING ERRCODE = '23514', CONSTRAINT = 'purchase_order_come';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "purchase_order_steps" BEFORE UPDATE ON "purchase_order"
  FOR EACH ROW EXECUTE FUNCTION purchase_order_steps();

CREATE FUNCTION purchase_order_stays() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'a list is cancelled, never deleted: its number would be missing' USING ERRCODE = '23514';
END $$;
CREATE TRIGGER "purchase_order_stays" BEFORE DELETE ON "purchase_order"
  FOR EACH ROW EXECUTE FUNCTION purchase_order_stays();
CREATE TRIGGER "purchase_order_no_truncate" BEFORE TRUNCATE ON "purchase_order"
  FOR EACH STATEMENT EXECUTE FUNCTION purchase_order_stays();

-- What was ordered stays as it was ordered.
CREATE FUNCTION purchase_line_of_draft() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF (SELECT "state" FROM "purchase_order" WHERE "id" = OLD."order_id") <> 'DRAFT' THEN
    RAISE EXCEPTION 'constraint "purchase_line_of_draft": this list is ordered' USING ERRCODE = '23514', CONSTRAINT = 'purchase_line_of_draft';
  END IF;
  IF TG_OP = 'DELETE' THEN RETURN OLD; END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "purchase_line_of_draft" BEFORE UPDATE OR DELETE ON "purchase_line"
  FOR EACH ROW EXECUTE FUNCTION purchase_line_of_draft();

-- A lot came for a line of its own item, of a list that is ordered. The share lock keeps the list from being taken back
-- meanwhile.
CREATE FUNCTION lot_of_its_line() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM 1 FROM "purchase_line" p JOIN "purchase_order" o ON o."id" = p."order_id"
    WHERE p."id" = NEW."purchase_line_id" AND p."item_id" = NEW."item_id" AND o."state" IN ('ORDERED', 'RECEIVED')
    FOR SHARE OF o;
  IF NOT FOUND THEN
    RAISE EXCEPTION 'constraint "lot_of_its_line": the line is of another item, or its list is not ordered'
      USING ERRCODE = '23514', CONSTRAINT = 'lot_of_its_line';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "lot_of_its_line" BEFORE INSERT OR UPDATE OF "purchase_line_id", "item_id" ON "lot"
  FOR EACH ROW WHEN (NEW."purchase_line_id" IS NOT NULL) EXECUTE FUNCTION lot_of_its_line();

-- ------------------------------------------------------------------ numbers without gaps
INSERT INTO "counter" ("name", "value") VALUES ('purchase', 0);

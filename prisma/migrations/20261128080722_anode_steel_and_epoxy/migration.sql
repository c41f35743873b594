-- CreateEnum
CREATE TYPE "SectionShape" AS ENUM ('FLAT', 'ROUND', 'SQUARE', 'TUBE', 'ANGLE', 'SHEET');

-- CreateEnum
CREATE TYPE "OffcutState" AS ENUM ('RACK', 'USED', 'SCRAPPED', 'UNDONE');

-- CreateEnum
CREATE TYPE "AnodeWay" AS ENUM ('RING', 'STRIPS', 'ROD');

-- CreateEnum
CREATE TYPE "CutState" AS ENUM ('CUT', 'HUNG', 'UNDONE');

-- CreateEnum
CREATE TYPE "LeakSeverity" AS ENUM ('WEEPING', 'DRIPPING', 'RUNNING');

-- CreateEnum
CREATE TYPE "LeakState" AS ENUM ('OPEN', 'PATCHED', 'CLOSED');

-- CreateTable
CREATE TABLE "item_section" (
    "item_id" UUID NOT NULL,
    "shape" "SectionShape" NOT NULL,
    "width_mm" DOUBLE PRECISION NOT NULL,
    "leg_mm" DOUBLE PRECISION,
    "thickness_mm" DOUBLE PRECISION,
    "stock_length_mm" DOUBLE PRECISION NOT NULL,
    "kerf_mm" DOUBLE PRECISION NOT NULL DEFAULT 2,
    "least_offcut_mm" DOUBLE PRECISION NOT NULL DEFAULT 150,

    CONSTRAINT "item_section_pkey" PRIMARY KEY ("item_id")
);

-- CreateTable
CREATE TABLE "offcut" (
    "id" UUID NOT NULL,
    "item_id" UUID NOT NULL,
    "lot_id" UUID NOT NULL,
    "length_mm" DECIMAL(14,3) NOT NULL,
    "state" "OffcutState" NOT NULL DEFAULT 'RACK',
    "at" TIMESTAMPTZ(3) NOT NULL,
    "entered_by_id" UUID NOT NULL,
    "born_of_id" UUID,
    "used_in_id" UUID,

    CONSTRAINT "offcut_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "steel_cut" (
    "id" UUID NOT NULL,
    "item_id" UUID NOT NULL,
    "tank_id" UUID NOT NULL,
    "way" "AnodeWay" NOT NULL,
    "length_mm" DOUBLE PRECISION NOT NULL,
    "count" INTEGER NOT NULL,
    "plan" JSONB NOT NULL,
    "mass_g" DOUBLE PRECISION NOT NULL,
    "wetted_area_m2" DOUBLE PRECISION NOT NULL,
    "cost_minor" INTEGER NOT NULL,
    "state" "CutState" NOT NULL DEFAULT 'CUT',
    "at" TIMESTAMPTZ(3) NOT NULL,
    "cut_by_id" UUID NOT NULL,
    "anode_id" UUID,

    CONSTRAINT "steel_cut_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "anode_lot" (
    "anode_id" UUID NOT NULL,
    "lot_id" UUID NOT NULL,
    "quantity" DECIMAL(14,3) NOT NULL,
    "cost_minor" INTEGER NOT NULL,

    CONSTRAINT "anode_lot_pkey" PRIMARY KEY ("anode_id","lot_id")
);

-- CreateTable
CREATE TABLE "epoxy_sheet" (
    "item_id" UUID NOT NULL,
    "hardener_per_100_by_mass" DOUBLE PRECISION,
    "hardener_per_100_by_volume" DOUBLE PRECISION,
    "density_g_per_ml" DOUBLE PRECISION,
    "reference_c" DOUBLE PRECISION NOT NULL DEFAULT 20,
    "pot_life_min" DOUBLE PRECISION NOT NULL,
    "cure_hours" DOUBLE PRECISION NOT NULL,
    "least_cure_c" DOUBLE PRECISION NOT NULL,
    "shelf_life_days" INTEGER,

    CONSTRAINT "epoxy_sheet_pkey" PRIMARY KEY ("item_id")
);

-- CreateTable
CREATE TABLE "leak" (
    "id" UUID NOT NULL,
    "tank_id" UUID NOT NULL,
    "found_at" TIMESTAMPTZ(3) NOT NULL,
    "found_by_id" UUID NOT NULL,
    "place" TEXT NOT NULL,
    "height_mm" DOUBLE PRECISION,
    "severity" "LeakSeverity" NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "state" "LeakState" NOT NULL DEFAULT 'OPEN',
    "closed_at" TIMESTAMPTZ(3),
    "closed_by_id" UUID,

    CONSTRAINT "leak_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "leak_patch" (
    "id" UUID NOT NULL,
    "leak_id" UUID NOT NULL,
    "tank_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "patched_by_id" UUID NOT NULL,
    "item_id" UUID NOT NULL,
    "lot_id" UUID NOT NULL,
    "quantity" DECIMAL(14,3) NOT NULL,
    "cost_minor" INTEGER NOT NULL,
    "cure_until" TIMESTAMPTZ(3) NOT NULL,
    "expired_reason" TEXT NOT NULL DEFAULT '',
    "note" TEXT NOT NULL DEFAULT '',

    CONSTRAINT "leak_patch_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "offcut_item_id_state_idx" ON "offcut"("item_id", "state");

-- CreateIndex
CREATE INDEX "offcut_lot_id_idx" ON "offcut"("lot_id");

-- CreateIndex
CREATE UNIQUE INDEX "steel_cut_anode_id_key" ON "steel_cut"("anode_id");

-- CreateIndex
CREATE INDEX "steel_cut_tank_id_at_idx" ON "steel_cut"("tank_id", "at");

-- CreateIndex
CREATE INDEX "steel_cut_item_id_at_idx" ON "steel_cut"("item_id", "at");

-- CreateIndex
CREATE INDEX "leak_tank_id_found_at_idx" ON "leak"("tank_id", "found_at");

-- CreateIndex
CREATE INDEX "leak_patch_leak_id_idx" ON "leak_patch"("leak_id");

-- CreateIndex
CREATE INDEX "leak_patch_tank_id_cure_until_idx" ON "leak_patch"("tank_id", "cure_until");

-- AddForeignKey
ALTER TABLE "item_section" ADD CONSTRAINT "item_section_item_id_fkey" FOREIGN KEY ("item_id") REFERENCES "item"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "offcut" ADD CONSTRAINT "offcut_item_id_fkey" FOREIGN KEY ("item_id") REFERENCES "item"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "offcut" ADD CONSTRAINT "offcut_lot_id_fkey" FOREIGN KEY ("lot_id") REFERENCES "lot"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "offcut" ADD CONSTRAINT "offcut_entered_by_id_fkey" FOREIGN KEY ("entered_by_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "offcut" ADD CONSTRAINT "offcut_born_of_id_fkey" FOREIGN KEY ("born_of_id") REFERENCES "steel_cut"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "offcut" ADD CONSTRAINT "offcut_used_in_id_fkey" FOREIGN KEY ("used_in_id") REFERENCES "steel_cut"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "steel_cut" ADD CONSTRAINT "steel_cut_item_id_fkey" FOREIGN KEY ("item_id") REFERENCES "item"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "steel_cut" ADD CONSTRAINT "steel_cut_tank_id_fkey" FOREIGN KEY ("tank_id") REFERENCES "tank"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "steel_cut" ADD CONSTRAINT "steel_cut_cut_by_id_fkey" FOREIGN KEY ("cut_by_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "steel_cut" ADD CONSTRAINT "steel_cut_anode_id_fkey" FOREIGN KEY ("anode_id") REFERENCES "anode"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "anode_lot" ADD CONSTRAINT "anode_lot_anode_id_fkey" FOREIGN KEY ("anode_id") REFERENCES "anode"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "anode_lot" ADD CONSTRAINT "anode_lot_lot_id_fkey" FOREIGN KEY ("lot_id") REFERENCES "lot"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "epoxy_sheet" ADD CONSTRAINT "epoxy_sheet_item_id_fkey" FOREIGN KEY ("item_id") REFERENCES "item"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "leak" ADD CONSTRAINT "leak_tank_id_fkey" FOREIGN KEY ("tank_id") REFERENCES "tank"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "leak" ADD CONSTRAINT "leak_found_by_id_fkey" FOREIGN KEY ("found_by_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "leak" ADD CONSTRAINT "leak_closed_by_id_fkey" FOREIGN KEY ("closed_by_id") REFERENCES "person"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "leak_patch" ADD CONSTRAINT "leak_patch_leak_id_fkey" FOREIGN KEY ("leak_id") REFERENCES "leak"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "leak_patch" ADD CONSTRAINT "leak_patch_tank_id_fkey" FOREIGN KEY ("tank_id") REFERENCES "tank"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "leak_patch" ADD CONSTRAINT "leak_patch_patched_by_id_fkey" FOREIGN KEY ("patched_by_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "leak_patch" ADD CONSTRAINT "leak_patch_item_id_fkey" FOREIGN KEY ("item_id") REFERENCES "item"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "leak_patch" ADD CONSTRAINT "leak_patch_lot_id_fkey" FOREIGN KEY ("lot_id") REFERENCES "lot"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ================================================================ what the database itself decides

ALTER TABLE "item_section" ADD CONSTRAINT "item_section_amounts" CHECK (
  "width_mm" > 0 AND ("leg_mm" IS NOT NULL) = ("shape" = 'ANGLE') AND COALESCE("leg_mm", 1) > 0
  AND ("thickness_mm" IS NULL) = ("shape" IN ('ROUND', 'SQUARE')) AND COALESCE("thickness_mm", 1) > 0
  AND "stock_length_mm" > 0 AND "kerf_mm" >= 0 AND "least_offcut_mm" > 0);
ALTER TABLE "steel_cut" ADD CONSTRAINT "steel_cut_amounts" CHECK (
  "length_mm" > 0 AND "count" > 0 AND "mass_g" > 0 AND "wetted_area_m2" > 0 AND "cost_minor" >= 0);
ALTER TABLE "steel_cut" ADD CONSTRAINT "steel_cut_hung" CHECK (("state" = 'HUNG') = ("anode_id" IS NOT NULL));
ALTER TABLE "anode_lot" ADD CONSTRAINT "anode_lot_amounts" CHECK ("quantity" > 0 AND "cost_minor" >= 0);
ALTER TABLE "epoxy_sheet" ADD CONSTRAINT "epoxy_sheet_amounts" CHECK (
  COALESCE("hardener_per_100_by_mass", "hardener_per_100_by_volume") > 0
  AND COALESCE("hardener_per_100_by_volume", 1) > 0 AND COALESCE("density_g_per_ml", 1) > 0
  AND "pot_life_min" > 0 AND "cure_hours" > 0 AND "least_cure_c" <= "reference_c" AND COALESCE("shelf_life_days", 1) > 0);
ALTER TABLE "leak" ADD CONSTRAINT "leak_closed" CHECK (
  ("state" = 'CLOSED') = ("closed_at" IS NOT NULL) AND ("closed_at" IS NULL) = ("closed_by_id" IS NULL));
ALTER TABLE "leak_patch" ADD CONSTRAINT "leak_patch_amounts" CHECK (
  "quantity" > 0 AND "cost_minor" >= 0 AND "cure_until" > "at");

-- ------------------------------------------------------------------ offcuts
ALTER TABLE "offcut" ADD CONSTRAINT "offcut_amounts" CHECK (
  "length_mm" > 0 AND ("state" = 'USED') = ("used_in_id" IS NOT NULL));

-- Offcuts on the rack are part of what their lot holds. The lot's lock lines up those who cut from it.
CREATE FUNCTION offcut_within_lot() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  one "lot";
BEGIN
  SELECT * INTO one FROM "lot" WHERE "id" = NEW."lot_id" FOR UPDATE;
  IF one."item_id" <> NEW."item_id" THEN
    RAISE EXCEPTION 'offcut names a lot of another item' USING ERRCODE = '23503';
  END IF;
  IF (SELECT SUM("length_mm") FROM "offcut" WHERE "lot_id" = NEW."lot_id" AND "state" = 'RACK') > one."on_hand" THEN
    RAISE EXCEPTION 'constraint "offcut_within_lot": the offcuts are longer than what the lot holds'
      USING ERRCODE = '23514', CONSTRAINT = 'offcut_within_lot';
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER "offcut_within_lot" AFTER INSERT OR UPDATE OF "state", "length_mm", "lot_id" ON "offcut"
  FOR EACH ROW WHEN (NEW."state" = 'RACK') EXECUTE FUNCTION offcut_within_lot();

-- ------------------------------------------------------------------ an anode's steel is its cost
CREATE FUNCTION anode_lot_adds_up() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  which uuid := CASE WHEN TG_TABLE_NAME = 'anode' THEN (to_jsonb(NEW)->>'id')::uuid
                     ELSE (to_jsonb(COALESCE(NEW, OLD))->>'anode_id')::uuid END;
BEGIN
  -- Anodes of the shop's own scrap, and those from before this was kept, have no lots.
  IF EXISTS (SELECT 1 FROM "anode" a
              WHERE a."id" = which AND a."cost_minor" <>
                (SELECT SUM(l."cost_minor") FROM "anode_lot" l WHERE l."anode_id" = which)) THEN
    RAISE EXCEPTION 'constraint "anode_lot_adds_up": the lots of an anode do not add up to its cost'
      USING ERRCODE = '23514', CONSTRAINT = 'anode_lot_adds_up';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER "anode_lot_adds_up" AFTER INSERT OR UPDATE OR DELETE ON "anode_lot"
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION anode_lot_adds_up();
CREATE CONSTRAINT TRIGGER "anode_cost_of_lots" AFTER UPDATE OF "cost_minor" ON "anode"
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION anode_lot_adds_up();

-- ------------------------------------------------------------------ patches
CREATE TRIGGER "leak_patch_append_only" BEFORE UPDATE OR DELETE ON "leak_patch"
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "leak_patch_no_truncate" BEFORE TRUNCATE ON "leak_patch"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- From patching until it has set, a tank holds neither bath nor load. Both sides lock the tank first, so that whoever
-- comes second sees what the first wrote. Times are those of the rows: they are when it was done.
CREATE FUNCTION leak_patch_is_dry() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM 1 FROM "tank" WHERE "id" = NEW."tank_id" FOR NO KEY UPDATE;
  IF NOT EXISTS (SELECT 1 FROM "leak" WHERE "id" = NEW."leak_id" AND "tank_id" = NEW."tank_id") THEN
    RAISE EXCEPTION 'patch names a leak of another tank' USING ERRCODE = '23503';
  END IF;
  IF EXISTS (SELECT 1 FROM "bath" WHERE "tank_id" = NEW."tank_id"
                AND "mixed_at" < NEW."cure_until" AND COALESCE("disposed_at", 'infinity') > NEW."at")
     OR EXISTS (SELECT 1 FROM "run" WHERE "tank_id" = NEW."tank_id" AND "loaded_at" IS NOT NULL
                AND "loaded_at" < NEW."cure_until" AND COALESCE("pulled_at", 'infinity') > NEW."at") THEN
    RAISE EXCEPTION 'constraint "leak_patch_is_dry": the tank is not empty while the patch sets'
      USING ERRCODE = '23514', CONSTRAINT = 'leak_patch_is_dry';
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER "leak_patch_is_dry" AFTER INSERT ON "leak_patch"
  FOR EACH ROW EXECUTE FUNCTION leak_patch_is_dry();

CREATE FUNCTION bath_beside_patch() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM 1 FROM "tank" WHERE "id" = NEW."tank_id" FOR NO KEY UPDATE;
  IF EXISTS (SELECT 1 FROM "leak_patch" WHERE "tank_id" = NEW."tank_id" AND "cure_until" > NEW."mixed_at"
                AND "at" < COALESCE(NEW."disposed_at", 'infinity')) THEN
    RAISE EXCEPTION 'constraint "bath_beside_patch": a patch in this tank has not set yet'
      USING ERRCODE = '23514', CONSTRAINT = 'bath_beside_patch';
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER "bath_beside_patch" AFTER INSERT OR UPDATE OF "tank_id", "mixed_at" ON "bath"
  FOR EACH ROW EXECUTE FUNCTION bath_beside_patch();

-- A load stands in the tank from loading to pulling.
CREATE FUNCTION run_beside_patch() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM 1 FROM "tank" WHERE "id" = NEW."tank_id" FOR NO KEY UPDATE;
  IF EXISTS (SELECT 1 FROM "leak_patch" WHERE "tank_id" = NEW."tank_id" AND "cure_until" > NEW."loaded_at"
                AND "at" < COALESCE(NEW."pulled_at", 'infinity')) THEN
    RAISE EXCEPTION 'constraint "run_beside_patch": a patch in this tank has not set yet'
      USING ERRCODE = '23514', CONSTRAINT = 'run_beside_patch';
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER "run_beside_patch" AFTER INSERT OR UPDATE OF "tank_id", "state", "loaded_at" ON "run"
  FOR EACH ROW WHEN (NEW."loaded_at" IS NOT NULL AND NEW."state" = 'RUNNING') EXECUTE FUNCTION run_beside_patch();

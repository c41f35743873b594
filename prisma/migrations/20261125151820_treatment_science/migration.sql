-- CreateEnum
CREATE TYPE "CareKind" AS ENUM ('CLAMPS', 'ANODE_BRUSHED', 'SLUDGE_OUT');

-- CreateEnum
CREATE TYPE "OverCurrent" AS ENUM ('SAGS', 'HOLDS', 'TRIPS');

-- CreateEnum
CREATE TYPE "MeasuredBy" AS ENUM ('METER', 'CURRENT');

-- CreateEnum
CREATE TYPE "DipTiming" AS ENUM ('JUST_CLEAN', 'LONG_CLEAN');

-- AlterTable
ALTER TABLE "anode" ADD COLUMN     "least_thickness_mm" DOUBLE PRECISION,
ADD COLUMN     "thickness_mm" DOUBLE PRECISION;

-- AlterTable
ALTER TABLE "dip" ADD COLUMN     "timing" "DipTiming";

-- AlterTable
ALTER TABLE "shop" ADD COLUMN     "bake_start_minutes" INTEGER NOT NULL DEFAULT 60,
ADD COLUMN     "humidity_percent" DOUBLE PRECISION NOT NULL DEFAULT 60;

-- AlterTable
ALTER TABLE "supply" ADD COLUMN     "over_current" "OverCurrent" NOT NULL DEFAULT 'SAGS';

-- CreateTable
CREATE TABLE "tank_care" (
    "id" UUID NOT NULL,
    "tank_id" UUID NOT NULL,
    "kind" "CareKind" NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "done_by_id" UUID NOT NULL,
    "idempotency_key" TEXT NOT NULL,

    CONSTRAINT "tank_care_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "bath_measurement" (
    "id" UUID NOT NULL,
    "bath_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "measured_by" "MeasuredBy" NOT NULL,
    "conductivity_s_per_m" DOUBLE PRECISION NOT NULL,
    "temperature_c" DOUBLE PRECISION NOT NULL,
    "carbonate_before_g" DOUBLE PRECISION NOT NULL,
    "bicarbonate_before_g" DOUBLE PRECISION NOT NULL,
    "carbonate_after_g" DOUBLE PRECISION NOT NULL,
    "bicarbonate_after_g" DOUBLE PRECISION NOT NULL,
    "measured_by_id" UUID NOT NULL,
    "idempotency_key" TEXT NOT NULL,

    CONSTRAINT "bath_measurement_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "tank_care_idempotency_key_key" ON "tank_care"("idempotency_key");

-- CreateIndex
CREATE INDEX "tank_care_tank_id_kind_at_idx" ON "tank_care"("tank_id", "kind", "at");

-- CreateIndex
CREATE UNIQUE INDEX "bath_measurement_idempotency_key_key" ON "bath_measurement"("idempotency_key");

-- CreateIndex
CREATE INDEX "bath_measurement_bath_id_at_idx" ON "bath_measurement"("bath_id", "at");

-- AddForeignKey
ALTER TABLE "tank_care" ADD CONSTRAINT "tank_care_tank_id_fkey" FOREIGN KEY ("tank_id") REFERENCES "tank"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "tank_care" ADD CONSTRAINT "tank_care_done_by_id_fkey" FOREIGN KEY ("done_by_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "bath_measurement" ADD CONSTRAINT "bath_measurement_bath_id_fkey" FOREIGN KEY ("bath_id") REFERENCES "bath"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "bath_measurement" ADD CONSTRAINT "bath_measurement_measured_by_id_fkey" FOREIGN KEY ("measured_by_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- What the database itself decides about the above.
ALTER TABLE "shop" ADD CONSTRAINT "shop_science"
  CHECK ("humidity_percent" BETWEEN 0 AND 100 AND "bake_start_minutes" BETWEEN 15 AND 240);
ALTER TABLE "anode" ADD CONSTRAINT "anode_thickness" CHECK (
  ("thickness_mm" IS NULL OR "thickness_mm" > 0)
  AND ("least_thickness_mm" IS NULL OR ("thickness_mm" IS NOT NULL AND "least_thickness_mm" >= 0
       AND "least_thickness_mm" < "thickness_mm"))
);
ALTER TABLE "bath_measurement" ADD CONSTRAINT "bath_measurement_amounts" CHECK (
  "conductivity_s_per_m" > 0 AND "carbonate_before_g" >= 0 AND "bicarbonate_before_g" >= 0
  AND "carbonate_after_g" >= 0 AND "bicarbonate_after_g" >= 0
);

-- CreateEnum
CREATE TYPE "FieldState" AS ENUM ('WAITING', 'WORKING', 'DONE', 'FAILED');

-- AlterTable
ALTER TABLE "plan" ADD COLUMN "field_times" DOUBLE PRECISION;
ALTER TABLE "plan" ADD CONSTRAINT "plan_field_times" CHECK ("field_times" > 0);

-- CreateTable
CREATE TABLE "plan_field" (
    "id" UUID NOT NULL,
    "plan_id" UUID NOT NULL,
    "state" "FieldState" NOT NULL DEFAULT 'WAITING',
    "progress" DOUBLE PRECISION NOT NULL DEFAULT 0,
    "scene_key" TEXT NOT NULL,
    "findings" JSONB,
    "findings_key" TEXT,
    "why" TEXT NOT NULL DEFAULT '',
    "asked_at" TIMESTAMPTZ(3) NOT NULL,
    "started_at" TIMESTAMPTZ(3),
    "finished_at" TIMESTAMPTZ(3),
    "claim" UUID,
    "beat_at" TIMESTAMPTZ(3),
    "tries" INTEGER NOT NULL DEFAULT 0,

    CONSTRAINT "plan_field_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "part_mesh" (
    "id" UUID NOT NULL,
    "part_id" UUID NOT NULL,
    "positions" BYTEA NOT NULL,
    "indices" BYTEA NOT NULL,
    "hash" TEXT NOT NULL,
    "corners" INTEGER NOT NULL,
    "triangles" INTEGER NOT NULL,
    "file_name" TEXT NOT NULL,
    "unit" TEXT NOT NULL,
    "area_m2" DOUBLE PRECISION NOT NULL,
    "volume_m3" DOUBLE PRECISION NOT NULL,
    "length_m" DOUBLE PRECISION NOT NULL,
    "width_m" DOUBLE PRECISION NOT NULL,
    "height_m" DOUBLE PRECISION NOT NULL,
    "mended" TEXT[],
    "added_at" TIMESTAMPTZ(3) NOT NULL,
    "added_by_id" UUID NOT NULL,

    CONSTRAINT "part_mesh_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "plan_field_plan_id_key" ON "plan_field"("plan_id");

-- CreateIndex
CREATE INDEX "plan_field_state_asked_at_idx" ON "plan_field"("state", "asked_at");

-- CreateIndex
CREATE UNIQUE INDEX "part_mesh_part_id_key" ON "part_mesh"("part_id");

-- AddForeignKey
ALTER TABLE "plan_field" ADD CONSTRAINT "plan_field_plan_id_fkey" FOREIGN KEY ("plan_id") REFERENCES "plan"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "part_mesh" ADD CONSTRAINT "part_mesh_part_id_fkey" FOREIGN KEY ("part_id") REFERENCES "part"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "part_mesh" ADD CONSTRAINT "part_mesh_added_by_id_fkey" FOREIGN KEY ("added_by_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- What the database itself decides about the above: somebody is at work exactly while it is being worked on, what is
-- done has findings of the scene that was asked for, and what failed says why.
ALTER TABLE "plan_field" ADD CONSTRAINT "plan_field_progress" CHECK ("progress" BETWEEN 0 AND 1 AND "tries" >= 0);
ALTER TABLE "plan_field" ADD CONSTRAINT "plan_field_states" CHECK (
  ("state" = 'WORKING') = ("claim" IS NOT NULL)
  AND ("claim" IS NULL OR "beat_at" IS NOT NULL)
  AND ("findings" IS NULL) = ("findings_key" IS NULL)
  AND ("state" <> 'DONE' OR ("findings" IS NOT NULL AND "findings_key" = "scene_key" AND "finished_at" IS NOT NULL))
  AND ("state" <> 'FAILED' OR ("why" <> '' AND "finished_at" IS NOT NULL))
);
ALTER TABLE "part_mesh" ADD CONSTRAINT "part_mesh_amounts" CHECK (
  "corners" >= 4 AND "triangles" >= 4 AND "area_m2" > 0 AND "volume_m3" > 0
  AND "length_m" > 0 AND "width_m" > 0 AND "height_m" > 0
);

-- The worker wakes by these, and a part's page follows them.
CREATE TRIGGER "plan_field_announced" AFTER INSERT OR UPDATE ON "plan_field"
  FOR EACH ROW EXECUTE FUNCTION announce_change();
CREATE TRIGGER "part_mesh_announced" AFTER INSERT OR UPDATE OR DELETE ON "part_mesh"
  FOR EACH ROW EXECUTE FUNCTION announce_change();
CREATE TRIGGER "part_announced" AFTER UPDATE ON "part"
  FOR EACH ROW EXECUTE FUNCTION announce_change();

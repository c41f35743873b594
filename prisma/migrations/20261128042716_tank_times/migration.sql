-- CreateEnum
CREATE TYPE "HoldKind" AS ENUM ('BATH_CHANGE', 'ANODE_CHANGE', 'MAINTENANCE');

-- CreateEnum
CREATE TYPE "HoldState" AS ENUM ('PLANNED', 'DONE', 'CANCELLED');

-- CreateEnum
CREATE TYPE "FeedKind" AS ENUM ('SHOP', 'TANK', 'PERSON');

-- AlterTable
ALTER TABLE "job" ADD COLUMN     "rush" BOOLEAN NOT NULL DEFAULT false;

-- AlterTable
ALTER TABLE "run" ADD COLUMN     "assigned_to_id" UUID,
ADD COLUMN     "bench_minutes" DOUBLE PRECISION NOT NULL DEFAULT 0,
ADD COLUMN     "changed_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
ADD COLUMN     "sequence" INTEGER NOT NULL DEFAULT 0,
ADD COLUMN     "treat_hours" DOUBLE PRECISION NOT NULL DEFAULT 0;

-- AlterTable
ALTER TABLE "shop" ADD COLUMN     "bath_life_ah_per_l" DOUBLE PRECISION NOT NULL DEFAULT 20,
ADD COLUMN     "hands" INTEGER NOT NULL DEFAULT 1;

-- CreateTable
CREATE TABLE "special_opening" (
    "id" UUID NOT NULL,
    "day" DATE NOT NULL,
    "opens_minute" INTEGER NOT NULL,
    "closes_minute" INTEGER NOT NULL,
    "reason" TEXT NOT NULL DEFAULT '',

    CONSTRAINT "special_opening_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "tank_hold" (
    "id" UUID NOT NULL,
    "tank_id" UUID NOT NULL,
    "kind" "HoldKind" NOT NULL,
    "state" "HoldState" NOT NULL DEFAULT 'PLANNED',
    "starts_at" TIMESTAMPTZ(3) NOT NULL,
    "ends_at" TIMESTAMPTZ(3) NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "sequence" INTEGER NOT NULL DEFAULT 0,
    "changed_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "created_by_id" UUID NOT NULL,
    "idempotency_key" TEXT NOT NULL,

    CONSTRAINT "tank_hold_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "calendar_feed" (
    "id" UUID NOT NULL,
    "kind" "FeedKind" NOT NULL,
    "name" TEXT NOT NULL,
    "tank_id" UUID,
    "person_id" UUID NOT NULL,
    "includes_unassigned" BOOLEAN NOT NULL DEFAULT true,
    "token_hash" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "revoked_at" TIMESTAMPTZ(3),
    "last_read_at" TIMESTAMPTZ(3),

    CONSTRAINT "calendar_feed_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "special_opening_day_opens_minute_key" ON "special_opening"("day", "opens_minute");

-- CreateIndex
CREATE UNIQUE INDEX "tank_hold_idempotency_key_key" ON "tank_hold"("idempotency_key");

-- CreateIndex
CREATE INDEX "tank_hold_tank_id_starts_at_idx" ON "tank_hold"("tank_id", "starts_at");

-- CreateIndex
CREATE UNIQUE INDEX "calendar_feed_token_hash_key" ON "calendar_feed"("token_hash");

-- CreateIndex
CREATE INDEX "calendar_feed_person_id_idx" ON "calendar_feed"("person_id");

-- CreateIndex
CREATE INDEX "run_supply_id_starts_at_idx" ON "run"("supply_id", "starts_at");

-- AddForeignKey
ALTER TABLE "run" ADD CONSTRAINT "run_assigned_to_id_fkey" FOREIGN KEY ("assigned_to_id") REFERENCES "person"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "tank_hold" ADD CONSTRAINT "tank_hold_tank_id_fkey" FOREIGN KEY ("tank_id") REFERENCES "tank"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "tank_hold" ADD CONSTRAINT "tank_hold_created_by_id_fkey" FOREIGN KEY ("created_by_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "calendar_feed" ADD CONSTRAINT "calendar_feed_tank_id_fkey" FOREIGN KEY ("tank_id") REFERENCES "tank"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "calendar_feed" ADD CONSTRAINT "calendar_feed_person_id_fkey" FOREIGN KEY ("person_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ================================================================ what the database itself decides

-- Bookings from before this migration: the hours they hold their tank for, less the hands at both ends.
UPDATE "run" SET "treat_hours" =
  GREATEST(0.1, EXTRACT(EPOCH FROM "ends_at" - "starts_at") / 3600 - 25.0 / 60);

ALTER TABLE "shop" ADD CONSTRAINT "shop_board"
  CHECK ("hands" BETWEEN 1 AND 20 AND "bath_life_ah_per_l" > 0 AND "bath_life_ah_per_l" <= 1000);
ALTER TABLE "special_opening" ADD CONSTRAINT "special_opening_span"
  CHECK ("opens_minute" >= 0 AND "closes_minute" <= 1440 AND "opens_minute" < "closes_minute");
ALTER TABLE "run" ADD CONSTRAINT "run_amounts"
  CHECK ("treat_hours" >= 0 AND "bench_minutes" >= 0 AND "expected_current_a" >= 0 AND "target_charge_ah" >= 0);
ALTER TABLE "tank_hold" ADD CONSTRAINT "tank_hold_span" CHECK ("starts_at" < "ends_at");
ALTER TABLE "calendar_feed" ADD CONSTRAINT "calendar_feed_subject"
  CHECK (("kind" = 'TANK') = ("tank_id" IS NOT NULL));

-- Two live runs never overlap in one tank. Deferrable, so that two runs of one change of the board may swap places:
-- between the two updates they overlap, at commit they do not. Everybody else is told at once.
ALTER TABLE "run" DROP CONSTRAINT "run_tank_free";
ALTER TABLE "run" ADD CONSTRAINT "run_tank_free"
  EXCLUDE USING gist ("tank_id" WITH =, tstzrange("starts_at", "ends_at", '[)') WITH &&)
  WHERE ("state" IN ('PLANNED', 'RUNNING')) DEFERRABLE INITIALLY IMMEDIATE;
ALTER TABLE "tank_hold" ADD CONSTRAINT "tank_hold_apart"
  EXCLUDE USING gist ("tank_id" WITH =, tstzrange("starts_at", "ends_at", '[)') WITH &&)
  WHERE ("state" = 'PLANNED') DEFERRABLE INITIALLY IMMEDIATE;

-- ------------------------------------------------------------------ who changed a booking last
CREATE FUNCTION booking_counts_changes() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF (NEW."tank_id", NEW."starts_at", NEW."ends_at", NEW."state")
     IS DISTINCT FROM (OLD."tank_id", OLD."starts_at", OLD."ends_at", OLD."state") THEN
    NEW."sequence" := OLD."sequence" + 1;
    NEW."changed_at" := clock_timestamp();
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "run_counts_changes" BEFORE UPDATE ON "run"
  FOR EACH ROW EXECUTE FUNCTION booking_counts_changes();
CREATE TRIGGER "tank_hold_counts_changes" BEFORE UPDATE ON "tank_hold"
  FOR EACH ROW EXECUTE FUNCTION booking_counts_changes();

-- ------------------------------------------------------------------ one at a time, by tank and by supply
-- Rules over several rows are checked with the rows' tank, and then their supply, locked: whoever comes second waits
-- here, and then sees what the first wrote. Always tank before supply, so that no two wait for each other.
CREATE FUNCTION booking_locks_tank() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM 1 FROM "tank" WHERE "id" = NEW."tank_id" FOR NO KEY UPDATE;
  RETURN NEW;
END $$;
CREATE TRIGGER "run_locks_tank" BEFORE INSERT OR UPDATE OF "tank_id", "starts_at", "ends_at", "state" ON "run"
  FOR EACH ROW WHEN (NEW."state" IN ('PLANNED', 'RUNNING')) EXECUTE FUNCTION booking_locks_tank();
CREATE TRIGGER "tank_hold_locks_tank" BEFORE INSERT OR UPDATE ON "tank_hold"
  FOR EACH ROW EXECUTE FUNCTION booking_locks_tank();

-- ------------------------------------------------------------------ supplies
-- What a supply gives without end: as continuousRating in lib/electrolysis has it.
CREATE FUNCTION supply_rating_a(one "supply") RETURNS double precision LANGUAGE sql IMMUTABLE AS $$
  SELECT CASE WHEN one."kind" = 'BATTERY' THEN COALESCE(one."capacity_ah", 40) / 10
              ELSE one."rated_current_a" * one."duty_factor" END
$$;

-- The most that live runs draw from a supply at one instant of a span. The sum only rises where a run begins, so the
-- span's own beginning and the starts within it are all there is to look at.
CREATE FUNCTION supply_peak_a(which uuid, from_at timestamptz, until_at timestamptz)
RETURNS double precision LANGUAGE sql STABLE AS $$
  SELECT COALESCE(MAX(drawn.total), 0) FROM (
    SELECT from_at AS at
    UNION
    SELECT "starts_at" FROM "run"
     WHERE "supply_id" = which AND "state" IN ('PLANNED', 'RUNNING')
       AND "starts_at" > from_at AND "starts_at" < until_at
  ) AS instant
  CROSS JOIN LATERAL (
    SELECT SUM("expected_current_a") AS total FROM "run"
     WHERE "supply_id" = which AND "state" IN ('PLANNED', 'RUNNING')
       AND "starts_at" <= instant.at AND "ends_at" > instant.at
  ) AS drawn
$$;

CREATE FUNCTION run_within_supply() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  one "supply";
  peak double precision;
  now_on double precision;
BEGIN
  SELECT * INTO one FROM "supply" WHERE "id" = NEW."supply_id" FOR NO KEY UPDATE;
  -- A run that this transaction changed again since: its last state counts, and its own check sees it.
  IF NOT EXISTS (SELECT 1 FROM "run" WHERE "id" = NEW."id" AND "supply_id" = NEW."supply_id"
                   AND "state" IN ('PLANNED', 'RUNNING')) THEN
    RETURN NULL;
  END IF;
  peak := supply_peak_a(NEW."supply_id", NEW."starts_at", NEW."ends_at");
  -- A load that should be out by its booking still draws.
  SELECT COALESCE(SUM("expected_current_a"), 0) INTO now_on FROM "run"
   WHERE "supply_id" = NEW."supply_id" AND "state" = 'RUNNING';
  IF NEW."state" = 'RUNNING' THEN peak := GREATEST(peak, now_on); END IF;
  IF peak > supply_rating_a(one) * 1.000001 THEN
    RAISE EXCEPTION 'constraint "run_within_supply": % A wanted of %, which gives % A without end',
      round(peak::numeric, 1), one."name", round(supply_rating_a(one)::numeric, 1)
      USING ERRCODE = '23514', CONSTRAINT = 'run_within_supply';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER "run_within_supply"
  AFTER INSERT OR UPDATE OF "tank_id", "supply_id", "starts_at", "ends_at", "state", "expected_current_a" ON "run"
  DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW
  WHEN (NEW."state" IN ('PLANNED', 'RUNNING') AND NEW."supply_id" IS NOT NULL)
  EXECUTE FUNCTION run_within_supply();

-- A supply is not made weaker than what is booked on it.
CREATE FUNCTION supply_carries_bookings() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF supply_rating_a(NEW) < supply_rating_a(OLD)
     AND supply_peak_a(NEW."id", '-infinity', 'infinity') > supply_rating_a(NEW) * 1.000001 THEN
    RAISE EXCEPTION 'constraint "supply_carries_bookings": more is booked on % than that', NEW."name"
      USING ERRCODE = '23514', CONSTRAINT = 'supply_carries_bookings';
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER "supply_carries_bookings" AFTER UPDATE OF "kind", "rated_current_a", "duty_factor", "capacity_ah" ON "supply"
  FOR EACH ROW EXECUTE FUNCTION supply_carries_bookings();

-- A tank that is given another supply takes its bookings with it; each is checked there.
CREATE FUNCTION tank_takes_bookings_along() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  UPDATE "run" SET "supply_id" = NEW."supply_id" WHERE "tank_id" = NEW."id" AND "state" = 'PLANNED';
  RETURN NULL;
END $$;
CREATE TRIGGER "tank_takes_bookings_along" AFTER UPDATE OF "supply_id" ON "tank"
  FOR EACH ROW WHEN (NEW."supply_id" IS DISTINCT FROM OLD."supply_id")
  EXECUTE FUNCTION tank_takes_bookings_along();

-- ------------------------------------------------------------------ bath, anode and other work on a tank
-- Charge that the anodes of a tank may still give before the first is due, A·h: Faraday's law (1.0418 g/A·h as iron(II)),
-- each by its share of the wetted area. NULL where no anode hangs or none dissolves. As anodeCondition in lib/services/tanks.
CREATE FUNCTION anode_left_ah(which uuid) RETURNS double precision LANGUAGE sql STABLE AS $$
  SELECT MIN((may_go.g - (a."initial_mass_g" - mass_now.g))
             / NULLIF(1.0418 * a."loss_factor" * a."wetted_area_m2" / whole.area, 0))
    FROM "anode" a
    CROSS JOIN LATERAL (SELECT SUM("wetted_area_m2") AS area FROM "anode"
                         WHERE "tank_id" = which AND "removed_at" IS NULL) AS whole
    CROSS JOIN LATERAL (SELECT a."initial_mass_g" * GREATEST(0, LEAST(a."replace_at_share",
        1 - a."least_thickness_mm" / NULLIF(a."thickness_mm", 0))) AS g) AS may_go
    LEFT JOIN LATERAL (SELECT "at", "mass_g" FROM "anode_weighing"
                        WHERE "anode_id" = a."id" ORDER BY "at" DESC LIMIT 1) AS weighed ON true
    CROSS JOIN LATERAL (
      SELECT COALESCE(weighed."mass_g", a."initial_mass_g") - COALESCE(SUM(w."loss_g"), 0) AS g
        FROM "anode_wear" w JOIN "run" r ON r."id" = w."run_id"
       WHERE w."anode_id" = a."id"
         AND COALESCE(r."pulled_at", 'infinity') > COALESCE(weighed."at", a."installed_at")) AS mass_now
   WHERE a."tank_id" = which AND a."removed_at" IS NULL
$$;

-- Charge that the bath in a tank may still bear, A·h. NULL where the tank is drained.
CREATE FUNCTION bath_left_ah(which uuid) RETURNS double precision LANGUAGE sql STABLE AS $$
  SELECT (SELECT "bath_life_ah_per_l" FROM "shop" WHERE "id" = 1) * b."volume_l" - b."charge_ah"
    FROM "bath" b WHERE b."tank_id" = which AND b."disposed_at" IS NULL
$$;

-- Charge booked in a tank before the next change of its bath or anode, without the last of those runs: no run may
-- begin in a spent bath or with an anode that is due.
CREATE FUNCTION booked_before_change_ah(which uuid, change "HoldKind") RETURNS double precision LANGUAGE sql STABLE AS $$
  SELECT CASE WHEN COUNT(*) = 0 THEN NULL
              ELSE SUM("target_charge_ah") - (ARRAY_AGG("target_charge_ah" ORDER BY "starts_at" DESC, "id"))[1] END
    FROM "run"
   WHERE "tank_id" = which AND "state" IN ('PLANNED', 'RUNNING')
     AND "starts_at" < COALESCE((SELECT MIN("starts_at") FROM "tank_hold"
           WHERE "tank_id" = which AND "kind" = change AND "state" = 'PLANNED'), 'infinity')
$$;

CREATE FUNCTION check_bath_and_anode(which uuid) RETURNS void LANGUAGE plpgsql AS $$
BEGIN
  IF booked_before_change_ah(which, 'ANODE_CHANGE') >= anode_left_ah(which) THEN
    RAISE EXCEPTION 'constraint "run_within_anode": the anode is due before the last of these runs begins'
      USING ERRCODE = '23514', CONSTRAINT = 'run_within_anode';
  END IF;
  IF booked_before_change_ah(which, 'BATH_CHANGE') >= bath_left_ah(which) THEN
    RAISE EXCEPTION 'constraint "run_within_bath": the bath is spent before the last of these runs begins'
      USING ERRCODE = '23514', CONSTRAINT = 'run_within_bath';
  END IF;
END $$;

CREATE FUNCTION run_within_tank() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT 1 FROM "tank_hold" h
              WHERE h."tank_id" = NEW."tank_id" AND h."state" = 'PLANNED'
                AND h."starts_at" < NEW."ends_at" AND NEW."starts_at" < h."ends_at") THEN
    RAISE EXCEPTION 'constraint "run_beside_hold": other work is booked on the tank in this time'
      USING ERRCODE = '23P01', CONSTRAINT = 'run_beside_hold';
  END IF;
  -- What is booked already is not refused for a weighing that came later; only what comes anew, or moves, is checked.
  IF NEW."state" = 'PLANNED' THEN PERFORM check_bath_and_anode(NEW."tank_id"); END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER "run_within_tank"
  AFTER INSERT OR UPDATE OF "tank_id", "starts_at", "ends_at" ON "run"
  DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW
  WHEN (NEW."state" IN ('PLANNED', 'RUNNING'))
  EXECUTE FUNCTION run_within_tank();

CREATE FUNCTION hold_beside_runs() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NEW."state" = 'PLANNED' AND EXISTS (
       SELECT 1 FROM "run" r WHERE r."tank_id" = NEW."tank_id" AND r."state" IN ('PLANNED', 'RUNNING')
          AND r."starts_at" < NEW."ends_at" AND NEW."starts_at" < r."ends_at") THEN
    RAISE EXCEPTION 'constraint "hold_beside_runs": a load is booked in this time'
      USING ERRCODE = '23P01', CONSTRAINT = 'hold_beside_runs';
  END IF;
  -- Later loads may count on a change that is given up or put off. One that is booked, or comes earlier, is always welcome.
  IF TG_OP = 'UPDATE' THEN
    IF NEW."kind" <> 'MAINTENANCE' AND (NEW."state" <> 'PLANNED' OR NEW."starts_at" > OLD."starts_at") THEN
      PERFORM check_bath_and_anode(NEW."tank_id");
    END IF;
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER "hold_beside_runs" AFTER INSERT OR UPDATE OF "tank_id", "starts_at", "ends_at", "state" ON "tank_hold"
  DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW EXECUTE FUNCTION hold_beside_runs();

-- ------------------------------------------------------------------ live boards
CREATE TRIGGER "tank_hold_announced" AFTER INSERT OR UPDATE ON "tank_hold"
  FOR EACH ROW EXECUTE FUNCTION announce_change();
CREATE TRIGGER "supply_announced" AFTER INSERT OR UPDATE ON "supply"
  FOR EACH ROW EXECUTE FUNCTION announce_change();
CREATE TRIGGER "special_opening_announced" AFTER INSERT OR UPDATE OR DELETE ON "special_opening"
  FOR EACH ROW EXECUTE FUNCTION announce_change();

CREATE EXTENSION IF NOT EXISTS btree_gist;

-- CreateSchema
CREATE SCHEMA IF NOT EXISTS "public";

-- CreateEnum
CREATE TYPE "UnitSystem" AS ENUM ('METRIC', 'US');

-- CreateEnum
CREATE TYPE "Role" AS ENUM ('OWNER', 'FRONT_DESK', 'BENCH');

-- CreateEnum
CREATE TYPE "JobState" AS ENUM ('OPEN', 'CLOSED', 'CANCELLED');

-- CreateEnum
CREATE TYPE "PartState" AS ENUM ('TAKEN_IN', 'PLANNED', 'BOOKED', 'IN_BATH', 'PULLED', 'FINISHED', 'HANDED_BACK', 'REFUSED');

-- CreateEnum
CREATE TYPE "Goal" AS ENUM ('RUST_ONLY', 'STRIP_TO_METAL');

-- CreateEnum
CREATE TYPE "PhotoMoment" AS ENUM ('BEFORE', 'DURING', 'AFTER');

-- CreateEnum
CREATE TYPE "VerdictOutcome" AS ENUM ('ACCEPT', 'ACCEPT_WITH_CONDITIONS', 'REFER', 'REFUSE');

-- CreateEnum
CREATE TYPE "TankKind" AS ENUM ('TAPERED_BOX', 'ROUND', 'MEASURED');

-- CreateEnum
CREATE TYPE "SupplyKind" AS ENUM ('CHARGER', 'BENCH', 'BATTERY');

-- CreateEnum
CREATE TYPE "AnodePlace" AS ENUM ('WALL', 'INNER');

-- CreateEnum
CREATE TYPE "RunState" AS ENUM ('PLANNED', 'RUNNING', 'PULLED', 'FINISHED', 'CANCELLED');

-- CreateEnum
CREATE TYPE "DipResult" AS ENUM ('CLEAN', 'PARTLY', 'AGAIN', 'DAMAGED');

-- CreateEnum
CREATE TYPE "ItemKind" AS ENUM ('SALT', 'ANODE_STEEL', 'EPOXY', 'CONSUMABLE', 'PROTECTION');

-- CreateEnum
CREATE TYPE "StockUnit" AS ENUM ('GRAM', 'MILLILITRE', 'MILLIMETRE', 'EACH');

-- CreateEnum
CREATE TYPE "EntryKind" AS ENUM ('RECEIVED', 'USED', 'COUNTED', 'SPOILED', 'RETURNED');

-- CreateEnum
CREATE TYPE "QuoteState" AS ENUM ('DRAFT', 'SENT', 'ACCEPTED', 'DECLINED', 'EXPIRED', 'SUPERSEDED');

-- CreateTable
CREATE TABLE "shop" (
    "id" INTEGER NOT NULL DEFAULT 1,
    "name" TEXT NOT NULL,
    "address" TEXT NOT NULL DEFAULT '',
    "email" TEXT NOT NULL DEFAULT '',
    "phone" TEXT NOT NULL DEFAULT '',
    "time_zone" TEXT NOT NULL,
    "currency" CHAR(3) NOT NULL,
    "locale" TEXT NOT NULL,
    "unit_system" "UnitSystem" NOT NULL DEFAULT 'METRIC',
    "workshop_temp_c" DOUBLE PRECISION NOT NULL DEFAULT 18,
    "room_volume_m3" DOUBLE PRECISION NOT NULL DEFAULT 60,
    "quote_valid_days" INTEGER NOT NULL DEFAULT 30,
    "quote_terms" TEXT NOT NULL DEFAULT '',
    "is_example" BOOLEAN NOT NULL DEFAULT false,
    "opened_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "shop_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "setup_code" (
    "id" INTEGER NOT NULL DEFAULT 1,
    "code_hash" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "setup_code_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "counter" (
    "name" TEXT NOT NULL,
    "value" INTEGER NOT NULL,

    CONSTRAINT "counter_pkey" PRIMARY KEY ("name")
);

-- CreateTable
CREATE TABLE "opening_hours" (
    "id" UUID NOT NULL,
    "weekday" INTEGER NOT NULL,
    "opens_minute" INTEGER NOT NULL,
    "closes_minute" INTEGER NOT NULL,

    CONSTRAINT "opening_hours_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "closed_day" (
    "day" DATE NOT NULL,
    "reason" TEXT NOT NULL DEFAULT '',

    CONSTRAINT "closed_day_pkey" PRIMARY KEY ("day")
);

-- CreateTable
CREATE TABLE "person" (
    "id" UUID NOT NULL,
    "email" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "role" "Role" NOT NULL,
    "password_hash" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "disabled_at" TIMESTAMPTZ(3),

    CONSTRAINT "person_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "session_record" (
    "id" UUID NOT NULL,
    "person_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "last_seen_at" TIMESTAMPTZ(3) NOT NULL,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "revoked_at" TIMESTAMPTZ(3),
    "user_agent" TEXT NOT NULL DEFAULT '',

    CONSTRAINT "session_record_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "invite" (
    "id" UUID NOT NULL,
    "email" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "role" "Role" NOT NULL,
    "token_hash" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "accepted_at" TIMESTAMPTZ(3),
    "revoked_at" TIMESTAMPTZ(3),
    "invited_by_id" UUID NOT NULL,

    CONSTRAINT "invite_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "rate_limit" (
    "key" TEXT NOT NULL,
    "points" INTEGER NOT NULL DEFAULT 0,
    "expire" BIGINT,

    CONSTRAINT "rate_limit_pkey" PRIMARY KEY ("key")
);

-- CreateTable
CREATE TABLE "audit_entry" (
    "id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "person_id" UUID,
    "action" TEXT NOT NULL,
    "subject_type" TEXT NOT NULL,
    "subject_id" TEXT NOT NULL,
    "detail" JSONB NOT NULL DEFAULT '{}',

    CONSTRAINT "audit_entry_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "customer" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "email" TEXT NOT NULL DEFAULT '',
    "phone" TEXT NOT NULL DEFAULT '',
    "address" TEXT NOT NULL DEFAULT '',
    "notes" TEXT NOT NULL DEFAULT '',
    "created_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "customer_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "job" (
    "id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "customer_id" UUID NOT NULL,
    "state" "JobState" NOT NULL DEFAULT 'OPEN',
    "taken_in_at" TIMESTAMPTZ(3) NOT NULL,
    "taken_in_by_id" UUID NOT NULL,
    "promised_for" DATE,
    "notes" TEXT NOT NULL DEFAULT '',
    "closed_at" TIMESTAMPTZ(3),

    CONSTRAINT "job_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "part" (
    "id" UUID NOT NULL,
    "job_id" UUID NOT NULL,
    "mark" TEXT NOT NULL,
    "description" TEXT NOT NULL,
    "state" "PartState" NOT NULL DEFAULT 'TAKEN_IN',
    "quantity" INTEGER NOT NULL DEFAULT 1,
    "shape" TEXT NOT NULL,
    "length_mm" DOUBLE PRECISION NOT NULL,
    "width_mm" DOUBLE PRECISION NOT NULL,
    "height_mm" DOUBLE PRECISION NOT NULL,
    "wall_mm" DOUBLE PRECISION,
    "mass_g" DOUBLE PRECISION,
    "area_override_m2" DOUBLE PRECISION,
    "material" TEXT NOT NULL,
    "hardness_hrc" DOUBLE PRECISION,
    "tensile_mpa" DOUBLE PRECISION,
    "rust_grade" CHAR(1) NOT NULL,
    "coatings" TEXT[],
    "hazards" TEXT[],
    "goal" "Goal" NOT NULL DEFAULT 'RUST_ONLY',
    "notes" TEXT NOT NULL DEFAULT '',
    "created_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "part_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "photo" (
    "id" UUID NOT NULL,
    "part_id" UUID NOT NULL,
    "moment" "PhotoMoment" NOT NULL,
    "caption" TEXT NOT NULL DEFAULT '',
    "taken_at" TIMESTAMPTZ(3) NOT NULL,
    "width_px" INTEGER NOT NULL,
    "height_px" INTEGER NOT NULL,
    "image" BYTEA NOT NULL,
    "thumbnail" BYTEA NOT NULL,

    CONSTRAINT "photo_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "verdict" (
    "id" UUID NOT NULL,
    "part_id" UUID NOT NULL,
    "decided_at" TIMESTAMPTZ(3) NOT NULL,
    "decided_by_id" UUID NOT NULL,
    "outcome" "VerdictOutcome" NOT NULL,
    "findings" JSONB NOT NULL,
    "overruled" BOOLEAN NOT NULL DEFAULT false,
    "overrule_reason" TEXT NOT NULL DEFAULT '',

    CONSTRAINT "verdict_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "plan" (
    "id" UUID NOT NULL,
    "part_id" UUID NOT NULL,
    "version" INTEGER NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "made_by_id" UUID NOT NULL,
    "tank_id" UUID NOT NULL,
    "area_m2" DOUBLE PRECISION NOT NULL,
    "solution_l" DOUBLE PRECISION NOT NULL,
    "salt_grade" TEXT NOT NULL,
    "salt_g" DOUBLE PRECISION NOT NULL,
    "current_a" DOUBLE PRECISION NOT NULL,
    "hours_p50" DOUBLE PRECISION NOT NULL,
    "hours_p90" DOUBLE PRECISION NOT NULL,
    "charge_ah" DOUBLE PRECISION NOT NULL,
    "anode_loss_g" DOUBLE PRECISION NOT NULL,
    "energy_kwh" DOUBLE PRECISION NOT NULL,
    "dip_count" INTEGER NOT NULL DEFAULT 1,
    "result" JSONB NOT NULL,

    CONSTRAINT "plan_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "relief_bake" (
    "id" UUID NOT NULL,
    "part_id" UUID NOT NULL,
    "must_start_by" TIMESTAMPTZ(3),
    "temperature_c" DOUBLE PRECISION NOT NULL,
    "hours" DOUBLE PRECISION NOT NULL,
    "started_at" TIMESTAMPTZ(3),
    "ended_at" TIMESTAMPTZ(3),

    CONSTRAINT "relief_bake_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "tank" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "place" TEXT NOT NULL DEFAULT '',
    "kind" "TankKind" NOT NULL,
    "top_length_mm" DOUBLE PRECISION NOT NULL,
    "top_width_mm" DOUBLE PRECISION NOT NULL,
    "bottom_length_mm" DOUBLE PRECISION NOT NULL,
    "bottom_width_mm" DOUBLE PRECISION NOT NULL,
    "depth_mm" DOUBLE PRECISION NOT NULL,
    "working_level_mm" DOUBLE PRECISION NOT NULL,
    "clearance_mm" DOUBLE PRECISION NOT NULL DEFAULT 50,
    "lead_length_m" DOUBLE PRECISION NOT NULL DEFAULT 2,
    "lead_area_mm2" DOUBLE PRECISION NOT NULL DEFAULT 4,
    "contact_ohm" DOUBLE PRECISION NOT NULL DEFAULT 0.02,
    "supply_id" UUID,
    "notes" TEXT NOT NULL DEFAULT '',
    "sort_order" INTEGER NOT NULL DEFAULT 0,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "retired_at" TIMESTAMPTZ(3),

    CONSTRAINT "tank_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "tank_level_mark" (
    "id" UUID NOT NULL,
    "tank_id" UUID NOT NULL,
    "level_mm" DOUBLE PRECISION NOT NULL,
    "volume_l" DOUBLE PRECISION NOT NULL,

    CONSTRAINT "tank_level_mark_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "supply" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "kind" "SupplyKind" NOT NULL,
    "open_voltage_v" DOUBLE PRECISION NOT NULL,
    "inner_resistance_ohm" DOUBLE PRECISION NOT NULL DEFAULT 0,
    "rated_current_a" DOUBLE PRECISION NOT NULL,
    "duty_factor" DOUBLE PRECISION NOT NULL DEFAULT 0.8,
    "capacity_ah" DOUBLE PRECISION,
    "efficiency" DOUBLE PRECISION NOT NULL DEFAULT 0.75,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "retired_at" TIMESTAMPTZ(3),

    CONSTRAINT "supply_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "anode" (
    "id" UUID NOT NULL,
    "tank_id" UUID NOT NULL,
    "place" "AnodePlace" NOT NULL DEFAULT 'WALL',
    "name" TEXT NOT NULL,
    "installed_at" TIMESTAMPTZ(3) NOT NULL,
    "removed_at" TIMESTAMPTZ(3),
    "initial_mass_g" DOUBLE PRECISION NOT NULL,
    "wetted_area_m2" DOUBLE PRECISION NOT NULL,
    "replace_at_share" DOUBLE PRECISION NOT NULL DEFAULT 0.5,
    "loss_factor" DOUBLE PRECISION NOT NULL DEFAULT 0.15,
    "loss_factor_error" DOUBLE PRECISION NOT NULL DEFAULT 0.15,
    "cost_minor" INTEGER NOT NULL DEFAULT 0,
    "lot_id" UUID,

    CONSTRAINT "anode_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "anode_weighing" (
    "id" UUID NOT NULL,
    "anode_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "mass_g" DOUBLE PRECISION NOT NULL,
    "error_g" DOUBLE PRECISION NOT NULL DEFAULT 5,
    "weighed_by_id" UUID NOT NULL,

    CONSTRAINT "anode_weighing_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "anode_wear" (
    "id" UUID NOT NULL,
    "anode_id" UUID NOT NULL,
    "run_id" UUID NOT NULL,
    "charge_ah" DOUBLE PRECISION NOT NULL,
    "loss_g" DOUBLE PRECISION NOT NULL,
    "cost_minor" INTEGER NOT NULL DEFAULT 0,

    CONSTRAINT "anode_wear_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "bath" (
    "id" UUID NOT NULL,
    "tank_id" UUID NOT NULL,
    "mixed_at" TIMESTAMPTZ(3) NOT NULL,
    "disposed_at" TIMESTAMPTZ(3),
    "volume_l" DOUBLE PRECISION NOT NULL,
    "carbonate_g" DOUBLE PRECISION NOT NULL DEFAULT 0,
    "bicarbonate_g" DOUBLE PRECISION NOT NULL DEFAULT 0,
    "temperature_c" DOUBLE PRECISION NOT NULL DEFAULT 18,
    "charge_ah" DOUBLE PRECISION NOT NULL DEFAULT 0,
    "disposal_note" TEXT NOT NULL DEFAULT '',

    CONSTRAINT "bath_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "bath_addition" (
    "id" UUID NOT NULL,
    "bath_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "water_l" DOUBLE PRECISION NOT NULL DEFAULT 0,
    "salt_grade" TEXT,
    "salt_g" DOUBLE PRECISION NOT NULL DEFAULT 0,
    "note" TEXT NOT NULL DEFAULT '',

    CONSTRAINT "bath_addition_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "run" (
    "id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "tank_id" UUID NOT NULL,
    "bath_id" UUID,
    "supply_id" UUID,
    "state" "RunState" NOT NULL DEFAULT 'PLANNED',
    "starts_at" TIMESTAMPTZ(3) NOT NULL,
    "ends_at" TIMESTAMPTZ(3) NOT NULL,
    "expected_current_a" DOUBLE PRECISION NOT NULL,
    "current_low_a" DOUBLE PRECISION NOT NULL,
    "current_high_a" DOUBLE PRECISION NOT NULL,
    "target_charge_ah" DOUBLE PRECISION NOT NULL,
    "fixed" BOOLEAN NOT NULL DEFAULT false,
    "booked_at" TIMESTAMPTZ(3) NOT NULL,
    "safety_acknowledged_at" TIMESTAMPTZ(3),
    "safety_acknowledged_by_id" UUID,
    "loaded_at" TIMESTAMPTZ(3),
    "pulled_at" TIMESTAMPTZ(3),
    "finished_at" TIMESTAMPTZ(3),
    "cancelled_at" TIMESTAMPTZ(3),
    "charge_ah" DOUBLE PRECISION,
    "energy_kwh" DOUBLE PRECISION,
    "notes" TEXT NOT NULL DEFAULT '',
    "idempotency_key" TEXT NOT NULL,

    CONSTRAINT "run_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "dip" (
    "id" UUID NOT NULL,
    "run_id" UUID NOT NULL,
    "part_id" UUID NOT NULL,
    "plan_id" UUID NOT NULL,
    "end" INTEGER NOT NULL DEFAULT 1,
    "charge_share" DOUBLE PRECISION NOT NULL DEFAULT 1,
    "result" "DipResult",
    "result_note" TEXT NOT NULL DEFAULT '',

    CONSTRAINT "dip_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "reading" (
    "id" UUID NOT NULL,
    "run_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "volts_v" DOUBLE PRECISION NOT NULL,
    "current_a" DOUBLE PRECISION NOT NULL,
    "temperature_c" DOUBLE PRECISION,
    "level_mm" DOUBLE PRECISION,
    "note" TEXT NOT NULL DEFAULT '',
    "taken_by_id" UUID NOT NULL,
    "idempotency_key" TEXT NOT NULL,

    CONSTRAINT "reading_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "item" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "kind" "ItemKind" NOT NULL,
    "salt_grade" TEXT,
    "unit" "StockUnit" NOT NULL,
    "grams_per_unit" DOUBLE PRECISION,
    "reorder_point" DECIMAL(14,3) NOT NULL DEFAULT 0,
    "reorder_quantity" DECIMAL(14,3) NOT NULL DEFAULT 0,
    "supplier_name" TEXT NOT NULL DEFAULT '',
    "place" TEXT NOT NULL DEFAULT '',
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "retired_at" TIMESTAMPTZ(3),

    CONSTRAINT "item_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "lot" (
    "id" UUID NOT NULL,
    "item_id" UUID NOT NULL,
    "received_at" TIMESTAMPTZ(3) NOT NULL,
    "quantity" DECIMAL(14,3) NOT NULL,
    "on_hand" DECIMAL(14,3) NOT NULL DEFAULT 0,
    "cost_minor" INTEGER NOT NULL,
    "supplier_name" TEXT NOT NULL DEFAULT '',
    "expires_on" DATE,
    "place" TEXT NOT NULL DEFAULT '',

    CONSTRAINT "lot_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "ledger_entry" (
    "id" UUID NOT NULL,
    "item_id" UUID NOT NULL,
    "lot_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "kind" "EntryKind" NOT NULL,
    "quantity" DECIMAL(14,3) NOT NULL,
    "cost_minor" INTEGER NOT NULL,
    "run_id" UUID,
    "job_id" UUID,
    "tank_id" UUID,
    "note" TEXT NOT NULL DEFAULT '',
    "entered_by_id" UUID NOT NULL,
    "idempotency_key" TEXT,

    CONSTRAINT "ledger_entry_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "rate_card" (
    "id" UUID NOT NULL,
    "valid_from" DATE NOT NULL,
    "labour_per_hour_minor" INTEGER NOT NULL,
    "intake_minutes_per_part" DOUBLE PRECISION NOT NULL DEFAULT 10,
    "load_minutes_per_run" DOUBLE PRECISION NOT NULL DEFAULT 15,
    "pull_minutes_per_run" DOUBLE PRECISION NOT NULL DEFAULT 10,
    "finish_minutes_per_m2" DOUBLE PRECISION NOT NULL DEFAULT 60,
    "tank_hour_minor" INTEGER NOT NULL,
    "energy_per_kwh_minor" INTEGER NOT NULL,
    "soda_per_kg_minor" INTEGER NOT NULL,
    "anode_steel_per_kg_minor" INTEGER NOT NULL,
    "disposal_per_litre_minor" INTEGER NOT NULL,
    "consumables_per_part_minor" INTEGER NOT NULL,
    "overhead_percent" DOUBLE PRECISION NOT NULL,
    "margin_percent" DOUBLE PRECISION NOT NULL,
    "contingency_share" DOUBLE PRECISION NOT NULL DEFAULT 0.5,
    "minimum_charge_minor" INTEGER NOT NULL,
    "rush_percent" DOUBLE PRECISION NOT NULL,
    "tax_name" TEXT NOT NULL,
    "tax_percent" DOUBLE PRECISION NOT NULL,

    CONSTRAINT "rate_card_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "quote" (
    "id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "job_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "link_token_hash" TEXT,
    "link_expires_at" TIMESTAMPTZ(3),
    "link_revoked_at" TIMESTAMPTZ(3),

    CONSTRAINT "quote_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "quote_version" (
    "id" UUID NOT NULL,
    "quote_id" UUID NOT NULL,
    "version" INTEGER NOT NULL,
    "state" "QuoteState" NOT NULL DEFAULT 'DRAFT',
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "sent_at" TIMESTAMPTZ(3),
    "valid_until" DATE NOT NULL,
    "currency" CHAR(3) NOT NULL,
    "rush" BOOLEAN NOT NULL DEFAULT false,
    "discount_percent" DOUBLE PRECISION NOT NULL DEFAULT 0,
    "net_minor" INTEGER NOT NULL,
    "tax_minor" INTEGER NOT NULL,
    "total_minor" INTEGER NOT NULL,
    "tax_name" TEXT NOT NULL,
    "tax_percent" DOUBLE PRECISION NOT NULL,
    "estimate" JSONB NOT NULL,
    "terms" TEXT NOT NULL DEFAULT '',
    "message_to_customer" TEXT NOT NULL DEFAULT '',
    "answered_at" TIMESTAMPTZ(3),
    "answered_name" TEXT NOT NULL DEFAULT '',
    "answer_note" TEXT NOT NULL DEFAULT '',

    CONSTRAINT "quote_version_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "quote_line" (
    "id" UUID NOT NULL,
    "quote_version_id" UUID NOT NULL,
    "position" INTEGER NOT NULL,
    "part_id" UUID,
    "label" TEXT NOT NULL,
    "detail" TEXT NOT NULL DEFAULT '',
    "net_minor" INTEGER NOT NULL,
    "tax_minor" INTEGER NOT NULL,

    CONSTRAINT "quote_line_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "labour_entry" (
    "id" UUID NOT NULL,
    "job_id" UUID NOT NULL,
    "part_id" UUID,
    "run_id" UUID,
    "person_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "task" TEXT NOT NULL,
    "minutes" DOUBLE PRECISION NOT NULL,
    "cost_minor" INTEGER NOT NULL,
    "idempotency_key" TEXT,

    CONSTRAINT "labour_entry_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "opening_hours_weekday_opens_minute_key" ON "opening_hours"("weekday", "opens_minute");

-- CreateIndex
CREATE UNIQUE INDEX "person_email_key" ON "person"("email");

-- CreateIndex
CREATE INDEX "session_record_person_id_idx" ON "session_record"("person_id");

-- CreateIndex
CREATE UNIQUE INDEX "invite_token_hash_key" ON "invite"("token_hash");

-- CreateIndex
CREATE INDEX "audit_entry_subject_type_subject_id_idx" ON "audit_entry"("subject_type", "subject_id");

-- CreateIndex
CREATE INDEX "audit_entry_at_idx" ON "audit_entry"("at");

-- CreateIndex
CREATE INDEX "customer_name_idx" ON "customer"("name");

-- CreateIndex
CREATE UNIQUE INDEX "job_number_key" ON "job"("number");

-- CreateIndex
CREATE INDEX "job_customer_id_idx" ON "job"("customer_id");

-- CreateIndex
CREATE INDEX "job_state_promised_for_idx" ON "job"("state", "promised_for");

-- CreateIndex
CREATE INDEX "part_state_idx" ON "part"("state");

-- CreateIndex
CREATE UNIQUE INDEX "part_job_id_mark_key" ON "part"("job_id", "mark");

-- CreateIndex
CREATE INDEX "photo_part_id_idx" ON "photo"("part_id");

-- CreateIndex
CREATE INDEX "verdict_part_id_decided_at_idx" ON "verdict"("part_id", "decided_at");

-- CreateIndex
CREATE UNIQUE INDEX "plan_part_id_version_key" ON "plan"("part_id", "version");

-- CreateIndex
CREATE INDEX "relief_bake_part_id_idx" ON "relief_bake"("part_id");

-- CreateIndex
CREATE UNIQUE INDEX "tank_name_key" ON "tank"("name");

-- CreateIndex
CREATE UNIQUE INDEX "tank_level_mark_tank_id_level_mm_key" ON "tank_level_mark"("tank_id", "level_mm");

-- CreateIndex
CREATE UNIQUE INDEX "supply_name_key" ON "supply"("name");

-- CreateIndex
CREATE INDEX "anode_tank_id_idx" ON "anode"("tank_id");

-- CreateIndex
CREATE INDEX "anode_weighing_anode_id_at_idx" ON "anode_weighing"("anode_id", "at");

-- CreateIndex
CREATE UNIQUE INDEX "anode_wear_anode_id_run_id_key" ON "anode_wear"("anode_id", "run_id");

-- CreateIndex
CREATE INDEX "bath_tank_id_idx" ON "bath"("tank_id");

-- CreateIndex
CREATE INDEX "bath_addition_bath_id_idx" ON "bath_addition"("bath_id");

-- CreateIndex
CREATE UNIQUE INDEX "run_number_key" ON "run"("number");

-- CreateIndex
CREATE UNIQUE INDEX "run_idempotency_key_key" ON "run"("idempotency_key");

-- CreateIndex
CREATE INDEX "run_tank_id_starts_at_idx" ON "run"("tank_id", "starts_at");

-- CreateIndex
CREATE INDEX "run_state_idx" ON "run"("state");

-- CreateIndex
CREATE INDEX "dip_part_id_idx" ON "dip"("part_id");

-- CreateIndex
CREATE UNIQUE INDEX "dip_run_id_part_id_key" ON "dip"("run_id", "part_id");

-- CreateIndex
CREATE UNIQUE INDEX "reading_idempotency_key_key" ON "reading"("idempotency_key");

-- CreateIndex
CREATE INDEX "reading_run_id_at_idx" ON "reading"("run_id", "at");

-- CreateIndex
CREATE UNIQUE INDEX "item_name_key" ON "item"("name");

-- CreateIndex
CREATE INDEX "lot_item_id_received_at_idx" ON "lot"("item_id", "received_at");

-- CreateIndex
CREATE UNIQUE INDEX "ledger_entry_idempotency_key_key" ON "ledger_entry"("idempotency_key");

-- CreateIndex
CREATE INDEX "ledger_entry_item_id_at_idx" ON "ledger_entry"("item_id", "at");

-- CreateIndex
CREATE INDEX "ledger_entry_lot_id_idx" ON "ledger_entry"("lot_id");

-- CreateIndex
CREATE INDEX "ledger_entry_run_id_idx" ON "ledger_entry"("run_id");

-- CreateIndex
CREATE INDEX "ledger_entry_job_id_idx" ON "ledger_entry"("job_id");

-- CreateIndex
CREATE UNIQUE INDEX "rate_card_valid_from_key" ON "rate_card"("valid_from");

-- CreateIndex
CREATE UNIQUE INDEX "quote_number_key" ON "quote"("number");

-- CreateIndex
CREATE UNIQUE INDEX "quote_link_token_hash_key" ON "quote"("link_token_hash");

-- CreateIndex
CREATE INDEX "quote_job_id_idx" ON "quote"("job_id");

-- CreateIndex
CREATE INDEX "quote_version_state_valid_until_idx" ON "quote_version"("state", "valid_until");

-- CreateIndex
CREATE UNIQUE INDEX "quote_version_quote_id_version_key" ON "quote_version"("quote_id", "version");

-- CreateIndex
CREATE UNIQUE INDEX "quote_line_quote_version_id_position_key" ON "quote_line"("quote_version_id", "position");

-- CreateIndex
CREATE UNIQUE INDEX "labour_entry_idempotency_key_key" ON "labour_entry"("idempotency_key");

-- CreateIndex
CREATE INDEX "labour_entry_job_id_idx" ON "labour_entry"("job_id");

-- AddForeignKey
ALTER TABLE "session_record" ADD CONSTRAINT "session_record_person_id_fkey" FOREIGN KEY ("person_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "invite" ADD CONSTRAINT "invite_invited_by_id_fkey" FOREIGN KEY ("invited_by_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "audit_entry" ADD CONSTRAINT "audit_entry_person_id_fkey" FOREIGN KEY ("person_id") REFERENCES "person"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "job" ADD CONSTRAINT "job_customer_id_fkey" FOREIGN KEY ("customer_id") REFERENCES "customer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "job" ADD CONSTRAINT "job_taken_in_by_id_fkey" FOREIGN KEY ("taken_in_by_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "part" ADD CONSTRAINT "part_job_id_fkey" FOREIGN KEY ("job_id") REFERENCES "job"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "photo" ADD CONSTRAINT "photo_part_id_fkey" FOREIGN KEY ("part_id") REFERENCES "part"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "verdict" ADD CONSTRAINT "verdict_part_id_fkey" FOREIGN KEY ("part_id") REFERENCES "part"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "verdict" ADD CONSTRAINT "verdict_decided_by_id_fkey" FOREIGN KEY ("decided_by_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "plan" ADD CONSTRAINT "plan_part_id_fkey" FOREIGN KEY ("part_id") REFERENCES "part"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "plan" ADD CONSTRAINT "plan_made_by_id_fkey" FOREIGN KEY ("made_by_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "plan" ADD CONSTRAINT "plan_tank_id_fkey" FOREIGN KEY ("tank_id") REFERENCES "tank"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "relief_bake" ADD CONSTRAINT "relief_bake_part_id_fkey" FOREIGN KEY ("part_id") REFERENCES "part"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "tank" ADD CONSTRAINT "tank_supply_id_fkey" FOREIGN KEY ("supply_id") REFERENCES "supply"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "tank_level_mark" ADD CONSTRAINT "tank_level_mark_tank_id_fkey" FOREIGN KEY ("tank_id") REFERENCES "tank"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "anode" ADD CONSTRAINT "anode_tank_id_fkey" FOREIGN KEY ("tank_id") REFERENCES "tank"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "anode" ADD CONSTRAINT "anode_lot_id_fkey" FOREIGN KEY ("lot_id") REFERENCES "lot"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "anode_weighing" ADD CONSTRAINT "anode_weighing_anode_id_fkey" FOREIGN KEY ("anode_id") REFERENCES "anode"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "anode_weighing" ADD CONSTRAINT "anode_weighing_weighed_by_id_fkey" FOREIGN KEY ("weighed_by_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "anode_wear" ADD CONSTRAINT "anode_wear_anode_id_fkey" FOREIGN KEY ("anode_id") REFERENCES "anode"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "anode_wear" ADD CONSTRAINT "anode_wear_run_id_fkey" FOREIGN KEY ("run_id") REFERENCES "run"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "bath" ADD CONSTRAINT "bath_tank_id_fkey" FOREIGN KEY ("tank_id") REFERENCES "tank"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "bath_addition" ADD CONSTRAINT "bath_addition_bath_id_fkey" FOREIGN KEY ("bath_id") REFERENCES "bath"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "run" ADD CONSTRAINT "run_tank_id_fkey" FOREIGN KEY ("tank_id") REFERENCES "tank"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "run" ADD CONSTRAINT "run_bath_id_fkey" FOREIGN KEY ("bath_id") REFERENCES "bath"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "run" ADD CONSTRAINT "run_supply_id_fkey" FOREIGN KEY ("supply_id") REFERENCES "supply"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "run" ADD CONSTRAINT "run_safety_acknowledged_by_id_fkey" FOREIGN KEY ("safety_acknowledged_by_id") REFERENCES "person"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "dip" ADD CONSTRAINT "dip_run_id_fkey" FOREIGN KEY ("run_id") REFERENCES "run"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "dip" ADD CONSTRAINT "dip_part_id_fkey" FOREIGN KEY ("part_id") REFERENCES "part"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "dip" ADD CONSTRAINT "dip_plan_id_fkey" FOREIGN KEY ("plan_id") REFERENCES "plan"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "reading" ADD CONSTRAINT "reading_run_id_fkey" FOREIGN KEY ("run_id") REFERENCES "run"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "reading" ADD CONSTRAINT "reading_taken_by_id_fkey" FOREIGN KEY ("taken_by_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "lot" ADD CONSTRAINT "lot_item_id_fkey" FOREIGN KEY ("item_id") REFERENCES "item"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ledger_entry" ADD CONSTRAINT "ledger_entry_item_id_fkey" FOREIGN KEY ("item_id") REFERENCES "item"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ledger_entry" ADD CONSTRAINT "ledger_entry_lot_id_fkey" FOREIGN KEY ("lot_id") REFERENCES "lot"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ledger_entry" ADD CONSTRAINT "ledger_entry_run_id_fkey" FOREIGN KEY ("run_id") REFERENCES "run"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ledger_entry" ADD CONSTRAINT "ledger_entry_job_id_fkey" FOREIGN KEY ("job_id") REFERENCES "job"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ledger_entry" ADD CONSTRAINT "ledger_entry_tank_id_fkey" FOREIGN KEY ("tank_id") REFERENCES "tank"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ledger_entry" ADD CONSTRAINT "ledger_entry_entered_by_id_fkey" FOREIGN KEY ("entered_by_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "quote" ADD CONSTRAINT "quote_job_id_fkey" FOREIGN KEY ("job_id") REFERENCES "job"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "quote_version" ADD CONSTRAINT "quote_version_quote_id_fkey" FOREIGN KEY ("quote_id") REFERENCES "quote"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "quote_line" ADD CONSTRAINT "quote_line_quote_version_id_fkey" FOREIGN KEY ("quote_version_id") REFERENCES "quote_version"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "labour_entry" ADD CONSTRAINT "labour_entry_job_id_fkey" FOREIGN KEY ("job_id") REFERENCES "job"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "labour_entry" ADD CONSTRAINT "labour_entry_part_id_fkey" FOREIGN KEY ("part_id") REFERENCES "part"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "labour_entry" ADD CONSTRAINT "labour_entry_run_id_fkey" FOREIGN KEY ("run_id") REFERENCES "run"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "labour_entry" ADD CONSTRAINT "labour_entry_person_id_fkey" FOREIGN KEY ("person_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- A quote offers options side by side, each with its lines, taxes and totals; a rate card has skills, a tariff, several
-- ways of taxing, and named rounding. What is stored already becomes a version with one option, a card with one rule.

ALTER TABLE "customer" ADD COLUMN "tax_code" TEXT NOT NULL DEFAULT '';
ALTER TABLE "shop" ADD COLUMN "quote_deposit_percent" DOUBLE PRECISION NOT NULL DEFAULT 0;

CREATE TABLE "quote_option" (
    "id" UUID NOT NULL,
    "quote_version_id" UUID NOT NULL,
    "position" INTEGER NOT NULL,
    "name" TEXT NOT NULL,
    "goal" "Goal",
    "rush" BOOLEAN NOT NULL DEFAULT false,
    "discount_percent" DOUBLE PRECISION NOT NULL DEFAULT 0,
    "net_minor" INTEGER NOT NULL,
    "tax_minor" INTEGER NOT NULL,
    "total_minor" INTEGER NOT NULL,
    "low_minor" INTEGER NOT NULL,
    "high_minor" INTEGER NOT NULL,
    "deposit_minor" INTEGER NOT NULL DEFAULT 0,
    "prices_include_tax" BOOLEAN NOT NULL DEFAULT false,
    "taxes" JSONB NOT NULL,
    "estimate" JSONB NOT NULL,

    CONSTRAINT "quote_option_pkey" PRIMARY KEY ("id")
);

INSERT INTO "quote_option" ("id", "quote_version_id", "position", "name", "rush", "discount_percent", "net_minor",
                            "tax_minor", "total_minor", "low_minor", "high_minor", "taxes", "estimate")
SELECT gen_random_uuid(), "id", 0, 'As planned', "rush", "discount_percent", "net_minor", "tax_minor", "total_minor",
       COALESCE(("estimate" -> 'priced' ->> 'lowMinor')::numeric::int, "total_minor"),
       COALESCE(("estimate" -> 'priced' ->> 'highMinor')::numeric::int, "total_minor"),
       jsonb_build_array(jsonb_build_object('code', 'standard', 'name', "tax_name", 'percent', "tax_percent",
                                            'baseMinor', "net_minor", 'taxMinor', "tax_minor")),
       "estimate"
  FROM "quote_version";

ALTER TABLE "quote_version"
  ADD COLUMN "accepted_option_id" UUID,
  ADD COLUMN "deposit_percent" DOUBLE PRECISION NOT NULL DEFAULT 0;
UPDATE "quote_version" AS v SET "accepted_option_id" = o."id"
  FROM "quote_option" AS o WHERE o."quote_version_id" = v."id" AND v."state" = 'ACCEPTED';

ALTER TABLE "quote_line" ADD COLUMN "quote_option_id" UUID, ADD COLUMN "tax_code" TEXT NOT NULL DEFAULT 'standard';
UPDATE "quote_line" AS l SET "quote_option_id" = o."id"
  FROM "quote_option" AS o WHERE o."quote_version_id" = l."quote_version_id";
ALTER TABLE "quote_line" DROP CONSTRAINT "quote_line_quote_version_id_fkey";
DROP INDEX "quote_line_quote_version_id_position_key";
ALTER TABLE "quote_line" DROP COLUMN "quote_version_id";
ALTER TABLE "quote_line" ALTER COLUMN "quote_option_id" SET NOT NULL, ALTER COLUMN "tax_code" DROP DEFAULT;

ALTER TABLE "quote_version"
  DROP COLUMN "discount_percent",
  DROP COLUMN "estimate",
  DROP COLUMN "net_minor",
  DROP COLUMN "rush",
  DROP COLUMN "tax_minor",
  DROP COLUMN "tax_name",
  DROP COLUMN "tax_percent",
  DROP COLUMN "total_minor";

ALTER TABLE "rate_card"
  ADD COLUMN "discount_steps" JSONB NOT NULL DEFAULT '[]',
  ADD COLUMN "energy_bands" JSONB NOT NULL DEFAULT '[]',
  ADD COLUMN "overhead_basis" TEXT NOT NULL DEFAULT 'DIRECT_COST',
  ADD COLUMN "overhead_per_tank_hour_minor" INTEGER NOT NULL DEFAULT 0,
  ADD COLUMN "price_step_minor" INTEGER NOT NULL DEFAULT 1,
  ADD COLUMN "prices_include_tax" BOOLEAN NOT NULL DEFAULT false,
  ADD COLUMN "rounding" TEXT NOT NULL DEFAULT 'TIES_TO_EVEN',
  ADD COLUMN "skills" JSONB NOT NULL DEFAULT '[]',
  ADD COLUMN "tax_rules" JSONB;
UPDATE "rate_card" SET "tax_rules" = jsonb_build_array(
  jsonb_build_object('code', 'standard', 'label', "tax_name" || ' as usual',
                     'taxes', jsonb_build_array(jsonb_build_object('name', "tax_name", 'percent', "tax_percent"))),
  jsonb_build_object('code', 'none', 'label', 'Not taxed', 'taxes', '[]'::jsonb));
ALTER TABLE "rate_card" ALTER COLUMN "tax_rules" SET NOT NULL, DROP COLUMN "tax_name", DROP COLUMN "tax_percent";
ALTER TABLE "rate_card" ADD CONSTRAINT "rate_card_lists" CHECK (
  jsonb_typeof("tax_rules") = 'array' AND jsonb_array_length("tax_rules") > 0 AND jsonb_typeof("skills") = 'array'
  AND jsonb_typeof("energy_bands") = 'array' AND jsonb_typeof("discount_steps") = 'array');
ALTER TABLE "rate_card" ADD CONSTRAINT "rate_card_choices" CHECK (
  "overhead_basis" IN ('DIRECT_COST', 'LABOUR', 'TANK_HOURS') AND "price_step_minor" >= 1
  AND "rounding" IN ('TIES_TO_EVEN', 'TIES_TO_AWAY', 'TOWARD_ZERO', 'TOWARD_POSITIVE', 'TOWARD_NEGATIVE'));

CREATE UNIQUE INDEX "quote_option_quote_version_id_position_key" ON "quote_option"("quote_version_id", "position");
CREATE UNIQUE INDEX "quote_line_quote_option_id_position_key" ON "quote_line"("quote_option_id", "position");
CREATE UNIQUE INDEX "quote_version_accepted_option_id_key" ON "quote_version"("accepted_option_id");
ALTER TABLE "quote_version" ADD CONSTRAINT "quote_version_accepted_option_id_fkey" FOREIGN KEY ("accepted_option_id") REFERENCES "quote_option"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "quote_option" ADD CONSTRAINT "quote_option_quote_version_id_fkey" FOREIGN KEY ("quote_version_id") REFERENCES "quote_version"("id") ON DELETE CASCADE ON UPDATE CASCADE;
ALTER TABLE "quote_line" ADD CONSTRAINT "quote_line_quote_option_id_fkey" FOREIGN KEY ("quote_option_id") REFERENCES "quote_option"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- What was accepted is one of what was offered, and only then.
ALTER TABLE "quote_version" ADD CONSTRAINT "quote_version_accepted"
  CHECK (("state" = 'ACCEPTED') = ("accepted_option_id" IS NOT NULL));
CREATE FUNCTION quote_version_accepts_its_own() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NEW."accepted_option_id" IS NOT NULL AND NOT EXISTS (
    SELECT 1 FROM "quote_option" WHERE "id" = NEW."accepted_option_id" AND "quote_version_id" = NEW."id") THEN
    RAISE EXCEPTION 'a quote accepts one of its own options' USING ERRCODE = '23503';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "quote_version_accepts_its_own" BEFORE INSERT OR UPDATE OF "accepted_option_id" ON "quote_version"
  FOR EACH ROW EXECUTE FUNCTION quote_version_accepts_its_own();

-- An option adds up, and its lines add up to it by the end of the transaction.
ALTER TABLE "quote_option" ADD CONSTRAINT "quote_option_adds_up" CHECK (
  "total_minor" = "net_minor" + "tax_minor" AND "low_minor" <= "total_minor" AND "total_minor" <= "high_minor"
  AND "deposit_minor" BETWEEN 0 AND GREATEST("total_minor", 0));
CREATE FUNCTION quote_lines_add_up() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  changed uuid;
  sums record;
BEGIN
  IF TG_TABLE_NAME = 'quote_option' THEN changed := NEW."id";
  ELSIF TG_OP = 'DELETE' THEN changed := OLD."quote_option_id";
  ELSE changed := NEW."quote_option_id";
  END IF;
  SELECT o."net_minor", o."tax_minor", COALESCE(SUM(l."net_minor"), 0) AS "net", COALESCE(SUM(l."tax_minor"), 0) AS "tax"
    INTO sums
    FROM "quote_option" AS o LEFT JOIN "quote_line" AS l ON l."quote_option_id" = o."id"
   WHERE o."id" = changed GROUP BY o."id";
  IF FOUND AND (sums."net_minor" <> sums."net" OR sums."tax_minor" <> sums."tax") THEN
    RAISE EXCEPTION 'the lines of a quote do not add up to it' USING ERRCODE = '23514', CONSTRAINT = 'quote_lines_add_up';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER "quote_option_lines_add_up" AFTER INSERT OR UPDATE ON "quote_option"
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION quote_lines_add_up();
CREATE CONSTRAINT TRIGGER "quote_line_adds_up" AFTER INSERT OR UPDATE OR DELETE ON "quote_line"
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION quote_lines_add_up();

-- What was sent stays as it was sent: options and lines are written and removed in drafts alone.
CREATE FUNCTION quote_sent_stays() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  changed uuid;
BEGIN
  IF TG_TABLE_NAME = 'quote_option' THEN
    changed := CASE TG_OP WHEN 'DELETE' THEN OLD."quote_version_id" ELSE NEW."quote_version_id" END;
  ELSE
    SELECT "quote_version_id" INTO changed FROM "quote_option"
     WHERE "id" = CASE TG_OP WHEN 'DELETE' THEN OLD."quote_option_id" ELSE NEW."quote_option_id" END;
  END IF;
  IF EXISTS (SELECT 1 FROM "quote_version" WHERE "id" = changed AND "state" <> 'DRAFT') THEN
    RAISE EXCEPTION 'a quote that was sent is not changed: make a new version' USING ERRCODE = '23514', CONSTRAINT = 'quote_sent_stays';
  END IF;
  RETURN CASE TG_OP WHEN 'DELETE' THEN OLD ELSE NEW END;
END $$;
CREATE TRIGGER "quote_option_sent_stays" BEFORE INSERT OR UPDATE OR DELETE ON "quote_option"
  FOR EACH ROW EXECUTE FUNCTION quote_sent_stays();
CREATE TRIGGER "quote_line_sent_stays" BEFORE INSERT OR UPDATE OR DELETE ON "quote_line"
  FOR EACH ROW EXECUTE FUNCTION quote_sent_stays();

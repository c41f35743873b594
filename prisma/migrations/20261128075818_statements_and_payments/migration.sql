-- CreateEnum
CREATE TYPE "DocumentKind" AS ENUM ('STATEMENT', 'CREDIT_NOTE');

-- CreateEnum
CREATE TYPE "PaymentMethod" AS ENUM ('CASH', 'CARD', 'TRANSFER', 'CHEQUE', 'OTHER');

-- AlterTable
ALTER TABLE "shop" ADD COLUMN     "bank_details" TEXT NOT NULL DEFAULT '',
ADD COLUMN     "payment_days" INTEGER NOT NULL DEFAULT 14,
ADD COLUMN     "payment_terms" TEXT NOT NULL DEFAULT '',
ADD COLUMN     "tax_number" TEXT NOT NULL DEFAULT '';

-- CreateTable
CREATE TABLE "job_document" (
    "id" UUID NOT NULL,
    "kind" "DocumentKind" NOT NULL,
    "number" INTEGER NOT NULL,
    "job_id" UUID NOT NULL,
    "refers_to_id" UUID,
    "issued_at" TIMESTAMPTZ(3) NOT NULL,
    "issued_by_id" UUID NOT NULL,
    "due_on" DATE,
    "currency" CHAR(3) NOT NULL,
    "customer_name" TEXT NOT NULL,
    "customer_address" TEXT NOT NULL,
    "shop_name" TEXT NOT NULL,
    "shop_address" TEXT NOT NULL,
    "shop_email" TEXT NOT NULL,
    "shop_phone" TEXT NOT NULL,
    "shop_tax_number" TEXT NOT NULL,
    "net_minor" INTEGER NOT NULL,
    "tax_minor" INTEGER NOT NULL,
    "total_minor" INTEGER NOT NULL,
    "taxes" JSONB NOT NULL,
    "line_count" INTEGER NOT NULL,
    "paid_minor" INTEGER NOT NULL DEFAULT 0,
    "paid" JSONB NOT NULL DEFAULT '[]',
    "reason" TEXT NOT NULL DEFAULT '',
    "terms" TEXT NOT NULL DEFAULT '',
    "idempotency_key" TEXT NOT NULL,

    CONSTRAINT "job_document_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "job_document_line" (
    "id" UUID NOT NULL,
    "document_id" UUID NOT NULL,
    "position" INTEGER NOT NULL,
    "of_position" INTEGER,
    "part_id" UUID,
    "label" TEXT NOT NULL,
    "detail" TEXT NOT NULL DEFAULT '',
    "quantity" DECIMAL(14,3),
    "tax_code" TEXT NOT NULL,
    "net_minor" INTEGER NOT NULL,
    "tax_minor" INTEGER NOT NULL,

    CONSTRAINT "job_document_line_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "payment" (
    "id" UUID NOT NULL,
    "job_id" UUID NOT NULL,
    "document_id" UUID,
    "received_on" DATE NOT NULL,
    "amount_minor" INTEGER NOT NULL,
    "method" "PaymentMethod" NOT NULL,
    "reference" TEXT NOT NULL DEFAULT '',
    "note" TEXT NOT NULL DEFAULT '',
    "corrects_id" UUID,
    "entered_at" TIMESTAMPTZ(3) NOT NULL,
    "entered_by_id" UUID NOT NULL,
    "idempotency_key" TEXT NOT NULL,

    CONSTRAINT "payment_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "job_document_idempotency_key_key" ON "job_document"("idempotency_key");

-- CreateIndex
CREATE INDEX "job_document_job_id_idx" ON "job_document"("job_id");

-- CreateIndex
CREATE INDEX "job_document_refers_to_id_idx" ON "job_document"("refers_to_id");

-- CreateIndex
CREATE UNIQUE INDEX "job_document_kind_number_key" ON "job_document"("kind", "number");

-- CreateIndex
CREATE UNIQUE INDEX "job_document_line_document_id_position_key" ON "job_document_line"("document_id", "position");

-- CreateIndex
CREATE UNIQUE INDEX "payment_corrects_id_key" ON "payment"("corrects_id");

-- CreateIndex
CREATE UNIQUE INDEX "payment_idempotency_key_key" ON "payment"("idempotency_key");

-- CreateIndex
CREATE INDEX "payment_job_id_idx" ON "payment"("job_id");

-- AddForeignKey
ALTER TABLE "job_document" ADD CONSTRAINT "job_document_job_id_fkey" FOREIGN KEY ("job_id") REFERENCES "job"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "job_document" ADD CONSTRAINT "job_document_refers_to_id_fkey" FOREIGN KEY ("refers_to_id") REFERENCES "job_document"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "job_document" ADD CONSTRAINT "job_document_issued_by_id_fkey" FOREIGN KEY ("issued_by_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "job_document_line" ADD CONSTRAINT "job_document_line_document_id_fkey" FOREIGN KEY ("document_id") REFERENCES "job_document"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "payment" ADD CONSTRAINT "payment_job_id_fkey" FOREIGN KEY ("job_id") REFERENCES "job"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "payment" ADD CONSTRAINT "payment_document_id_fkey" FOREIGN KEY ("document_id") REFERENCES "job_document"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "payment" ADD CONSTRAINT "payment_corrects_id_fkey" FOREIGN KEY ("corrects_id") REFERENCES "payment"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "payment" ADD CONSTRAINT "payment_entered_by_id_fkey" FOREIGN KEY ("entered_by_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ------------------------------------------------------------------ numbers
INSERT INTO "counter" ("name", "value") VALUES ('statement', 0), ('credit-note', 0);

-- ------------------------------------------------------------------ what stands in one row
ALTER TABLE "shop" ADD CONSTRAINT "shop_payment_days" CHECK ("payment_days" BETWEEN 0 AND 365);
ALTER TABLE "job_document" ADD CONSTRAINT "job_document_kind" CHECK (
  ("kind" = 'STATEMENT' AND "refers_to_id" IS NULL AND "due_on" IS NOT NULL)
  OR ("kind" = 'CREDIT_NOTE' AND "refers_to_id" IS NOT NULL AND "due_on" IS NULL AND "paid_minor" = 0)
);
ALTER TABLE "job_document" ADD CONSTRAINT "job_document_adds_up" CHECK (
  "net_minor" + "tax_minor" = "total_minor" AND "total_minor" > 0 AND "line_count" > 0 AND "number" > 0
);
ALTER TABLE "payment" ADD CONSTRAINT "payment_amount" CHECK ("amount_minor" <> 0);

-- ------------------------------------------------------------------ append-only
CREATE TRIGGER "job_document_append_only" BEFORE UPDATE OR DELETE ON "job_document"
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "job_document_no_truncate" BEFORE TRUNCATE ON "job_document"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "job_document_line_append_only" BEFORE UPDATE OR DELETE ON "job_document_line"
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "job_document_line_no_truncate" BEFORE TRUNCATE ON "job_document_line"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "payment_append_only" BEFORE UPDATE OR DELETE ON "payment"
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "payment_no_truncate" BEFORE TRUNCATE ON "payment"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- ------------------------------------------------------------------ a document is its lines
-- Looked at when the transaction ends, since a document is written before its lines. The number of lines is kept with
-- it, so that none, not even one of nothing, is added to it later.
CREATE FUNCTION check_document_lines(which uuid) RETURNS void LANGUAGE plpgsql AS $$
DECLARE
  one "job_document"%ROWTYPE;
  lines bigint;
  net bigint;
  tax bigint;
  rates bigint;
BEGIN
  SELECT * INTO one FROM "job_document" WHERE "id" = which;
  SELECT count(*), COALESCE(sum("net_minor"), 0), COALESCE(sum("tax_minor"), 0) INTO lines, net, tax
    FROM "job_document_line" WHERE "document_id" = which;
  SELECT COALESCE(sum((rate->>'taxMinor')::bigint), 0) INTO rates FROM jsonb_array_elements(one."taxes") AS rate;
  IF lines <> one."line_count" OR net <> one."net_minor" OR tax <> one."tax_minor" OR rates <> one."tax_minor" THEN
    RAISE EXCEPTION 'constraint "job_document_lines": % lines of % + %, % by rate, in a document of % lines, % + %',
      lines, net, tax, rates, one."line_count", one."net_minor", one."tax_minor"
      USING ERRCODE = '23514', CONSTRAINT = 'job_document_lines';
  END IF;
END $$;
CREATE FUNCTION document_is_its_lines() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM check_document_lines(NEW."id");
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER "job_document_lines" AFTER INSERT ON "job_document"
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION document_is_its_lines();
CREATE FUNCTION line_is_of_its_document() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM check_document_lines(NEW."document_id");
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER "job_document_line_lines" AFTER INSERT ON "job_document_line"
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION line_is_of_its_document();

-- ------------------------------------------------------------------ one open statement a job, credited at most whole
-- The job's lock lines up everybody who charges or credits it, so that the sums below hold until this transaction ends.
CREATE FUNCTION credited_of(which uuid, OUT net bigint, OUT tax bigint, OUT total bigint) LANGUAGE sql AS $$
  SELECT COALESCE(sum("net_minor"), 0), COALESCE(sum("tax_minor"), 0), COALESCE(sum("total_minor"), 0)
    FROM "job_document" WHERE "refers_to_id" = which
$$;
CREATE FUNCTION document_of_its_job() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  statement "job_document"%ROWTYPE;
  credited record;
BEGIN
  PERFORM 1 FROM "job" WHERE "id" = NEW."job_id" FOR NO KEY UPDATE;
  IF NEW."kind" = 'STATEMENT' THEN
    IF EXISTS (SELECT 1 FROM "job_document" d
                WHERE d."job_id" = NEW."job_id" AND d."kind" = 'STATEMENT' AND d."id" <> NEW."id"
                  AND (credited_of(d."id")).total < d."total_minor") THEN
      RAISE EXCEPTION 'constraint "job_document_one_open": the job has a statement that is not credited'
        USING ERRCODE = '23514', CONSTRAINT = 'job_document_one_open';
    END IF;
    RETURN NULL;
  END IF;
  SELECT * INTO statement FROM "job_document" WHERE "id" = NEW."refers_to_id" FOR NO KEY UPDATE;
  IF statement."kind" <> 'STATEMENT' OR statement."job_id" <> NEW."job_id" OR statement."currency" <> NEW."currency" THEN
    RAISE EXCEPTION 'constraint "credit_note_of_its_statement": it refers to no statement of this job'
      USING ERRCODE = '23514', CONSTRAINT = 'credit_note_of_its_statement';
  END IF;
  SELECT * INTO credited FROM credited_of(statement."id");
  IF credited.total > statement."total_minor"
     OR (credited.total = statement."total_minor"
         AND (credited.net <> statement."net_minor" OR credited.tax <> statement."tax_minor")) THEN
    RAISE EXCEPTION 'constraint "credit_within_statement": % of % credited', credited.total, statement."total_minor"
      USING ERRCODE = '23514', CONSTRAINT = 'credit_within_statement';
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER "job_document_of_its_job" AFTER INSERT ON "job_document"
  FOR EACH ROW EXECUTE FUNCTION document_of_its_job();

-- A line is credited at most whole, net and tax, and only with its own sign. Its statement is locked by now.
CREATE FUNCTION credit_line_within_line() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  note "job_document"%ROWTYPE;
  line "job_document_line"%ROWTYPE;
  net bigint;
  tax bigint;
BEGIN
  SELECT * INTO note FROM "job_document" WHERE "id" = NEW."document_id";
  IF note."kind" = 'STATEMENT' THEN
    IF NEW."of_position" IS NOT NULL THEN
      RAISE EXCEPTION 'constraint "credit_within_line": a statement''s line credits nothing'
        USING ERRCODE = '23514', CONSTRAINT = 'credit_within_line';
    END IF;
    RETURN NULL;
  END IF;
  SELECT * INTO line FROM "job_document_line"
   WHERE "document_id" = note."refers_to_id" AND "position" = NEW."of_position";
  IF line."id" IS NULL OR line."tax_code" <> NEW."tax_code" THEN
    RAISE EXCEPTION 'constraint "credit_within_line": it is of no line of the statement'
      USING ERRCODE = '23514', CONSTRAINT = 'credit_within_line';
  END IF;
  SELECT sum(l."net_minor"), sum(l."tax_minor") INTO net, tax
    FROM "job_document_line" l JOIN "job_document" d ON d."id" = l."document_id"
   WHERE d."refers_to_id" = note."refers_to_id" AND l."of_position" = NEW."of_position";
  IF net NOT BETWEEN LEAST(0, line."net_minor") AND GREATEST(0, line."net_minor")
     OR tax NOT BETWEEN LEAST(0, line."tax_minor") AND GREATEST(0, line."tax_minor") THEN
    RAISE EXCEPTION 'constraint "credit_within_line": % + % credited of % + %', net, tax, line."net_minor", line."tax_minor"
      USING ERRCODE = '23514', CONSTRAINT = 'credit_within_line';
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER "job_document_line_credit" AFTER INSERT ON "job_document_line"
  FOR EACH ROW EXECUTE FUNCTION credit_line_within_line();

-- ------------------------------------------------------------------ no more goes back than came in
CREATE FUNCTION payment_of_its_job() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  wrong "payment"%ROWTYPE;
  paid bigint;
BEGIN
  PERFORM 1 FROM "job" WHERE "id" = NEW."job_id" FOR NO KEY UPDATE;
  IF NEW."document_id" IS NOT NULL AND NOT EXISTS (
    SELECT 1 FROM "job_document" d
     WHERE d."id" = NEW."document_id" AND d."job_id" = NEW."job_id" AND d."kind" = 'STATEMENT') THEN
    RAISE EXCEPTION 'constraint "payment_of_its_statement": it is for no statement of this job'
      USING ERRCODE = '23514', CONSTRAINT = 'payment_of_its_statement';
  END IF;
  IF NEW."corrects_id" IS NOT NULL THEN
    SELECT * INTO wrong FROM "payment" WHERE "id" = NEW."corrects_id";
    IF wrong."job_id" <> NEW."job_id" OR wrong."corrects_id" IS NOT NULL
       OR NEW."amount_minor" <> -wrong."amount_minor" OR NEW."method" <> wrong."method" THEN
      RAISE EXCEPTION 'constraint "payment_taken_back": it does not take back a payment of this job'
        USING ERRCODE = '23514', CONSTRAINT = 'payment_taken_back';
    END IF;
  END IF;
  SELECT sum("amount_minor") INTO paid FROM "payment" WHERE "job_id" = NEW."job_id";
  IF paid < 0 THEN
    RAISE EXCEPTION 'constraint "payment_not_below_zero": % would be left of what was paid', paid
      USING ERRCODE = '23514', CONSTRAINT = 'payment_not_below_zero';
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER "payment_of_its_job" AFTER INSERT ON "payment"
  FOR EACH ROW EXECUTE FUNCTION payment_of_its_job();

-- ------------------------------------------------------------------ pages that are open follow
CREATE TRIGGER "job_document_announced" AFTER INSERT ON "job_document"
  FOR EACH ROW EXECUTE FUNCTION announce_change();
CREATE TRIGGER "payment_announced" AFTER INSERT ON "payment"
  FOR EACH ROW EXECUTE FUNCTION announce_change();

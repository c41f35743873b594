-- CreateEnum
CREATE TYPE "MailKind" AS ENUM ('QUOTE_SENT', 'QUOTE_CHANGED', 'QUOTE_ANSWERED', 'QUOTE_QUESTION');

-- CreateEnum
CREATE TYPE "MailState" AS ENUM ('WAITING', 'SENDING', 'SENT', 'FAILED', 'DROPPED');

-- CreateTable
CREATE TABLE "mail_message" (
    "id" UUID NOT NULL,
    "kind" "MailKind" NOT NULL,
    "quote_id" UUID NOT NULL,
    "attach_version_id" UUID,
    "to_address" TEXT NOT NULL,
    "subject" TEXT NOT NULL,
    "text_body" TEXT NOT NULL,
    "state" "MailState" NOT NULL DEFAULT 'WAITING',
    "tries" INTEGER NOT NULL DEFAULT 0,
    "last_error" TEXT NOT NULL DEFAULT '',
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "next_try_at" TIMESTAMPTZ(3) NOT NULL,
    "claimed_at" TIMESTAMPTZ(3),
    "sent_at" TIMESTAMPTZ(3),
    "idempotency_key" TEXT NOT NULL,

    CONSTRAINT "mail_message_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "mail_message_idempotency_key_key" ON "mail_message"("idempotency_key");

-- CreateIndex
CREATE INDEX "mail_message_state_next_try_at_idx" ON "mail_message"("state", "next_try_at");

-- CreateIndex
CREATE INDEX "mail_message_quote_id_idx" ON "mail_message"("quote_id");

-- AddForeignKey
ALTER TABLE "mail_message" ADD CONSTRAINT "mail_message_quote_id_fkey" FOREIGN KEY ("quote_id") REFERENCES "quote"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- No line end can smuggle a header in, and no text outlives the sending: it may hold the key of a private link.
ALTER TABLE "mail_message" ADD CONSTRAINT "mail_one_line"
  CHECK ("to_address" !~ '[[:cntrl:][:space:]]' AND "to_address" ~ '^[^@]+@[^@]+$' AND "subject" !~ '[[:cntrl:]]');
ALTER TABLE "mail_message" ADD CONSTRAINT "mail_text_until_sent"
  CHECK (("state" IN ('WAITING', 'SENDING')) = ("text_body" <> ''));
ALTER TABLE "mail_message" ADD CONSTRAINT "mail_states" CHECK (
  (("state" = 'SENT') = ("sent_at" IS NOT NULL)) AND (("state" = 'SENDING') = ("claimed_at" IS NOT NULL)) AND "tries" >= 0);

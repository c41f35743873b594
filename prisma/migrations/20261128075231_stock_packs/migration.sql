-- AlterTable
ALTER TABLE "item" ADD COLUMN     "category" TEXT NOT NULL DEFAULT '',
ADD COLUMN     "pack_name" TEXT NOT NULL DEFAULT '',
ADD COLUMN     "pack_quantity" DECIMAL(14,3);

-- A pack holds something, and has a name to be asked for by.
ALTER TABLE "item" ADD CONSTRAINT "item_pack" CHECK (
  ("pack_quantity" IS NULL AND "pack_name" = '') OR ("pack_quantity" IS NOT NULL AND "pack_quantity" > 0 AND "pack_name" <> '')
);

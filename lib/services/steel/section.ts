import { type Actor, requirePermission } from "@/lib/access";
import {
  type Db,
  findSection,
  inTransaction,
  type ItemRow,
  recordAudit,
  saveSection,
  type SectionRow,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { type Section, sectionFaults } from "@/lib/stock";
import { requireItem } from "../stock/items";

export type BarsOfItem = {
  readonly section: Section;
  /** mm of a whole bar as it is delivered, above 0 */
  readonly stockLengthMm: number;
  /** mm that one cut takes, 0 or more */
  readonly kerfMm: number;
  /** mm from which on what is left is kept, above 0 */
  readonly leastOffcutMm: number;
};

/**
 * Says what the bars of an item measure and how they are sawn.
 *
 * @throws Refusal not-allowed | not-found | invalid
 */
export async function describeBars(
  actor: Actor,
  itemId: string,
  { section, ...sawn }: BarsOfItem,
  now: Date,
): Promise<void> {
  requirePermission(actor, "keep-stock");
  await inTransaction(async (db) => {
    await requireSteel(db, itemId);
    check({ section, ...sawn });
    await saveSection(db, { itemId, ...section, ...sawn });
    await recordAudit(db, {
      actor,
      at: now,
      action: "item.section-described",
      subjectType: "item",
      subjectId: itemId,
      detail: { shape: section.shape, widthMm: section.widthMm },
    });
  });
}

function check({ section, stockLengthMm, kerfMm, leastOffcutMm }: BarsOfItem): void {
  const fields: Record<string, string> = { ...sectionFaults(section) };
  if (!(stockLengthMm > 0)) fields["stockLengthMm"] = "Above 0.";
  if (!(kerfMm >= 0 && kerfMm <= 20)) fields["kerfMm"] = "From 0 to {20 mm}.";
  if (!(leastOffcutMm > 0 && leastOffcutMm < stockLengthMm)) {
    fields["leastOffcutMm"] = "Above 0 and shorter than a whole bar.";
  }
  if (Object.keys(fields).length > 0) {
    throw new Refusal("invalid", "Some of this does not fit together yet.", fields);
  }
}

/** An item of anode steel that is counted by its length. @throws Refusal not-found */
export async function requireSteel(db: Db, itemId: string): Promise<ItemRow> {
  const item = await requireItem(db, itemId);
  if (item.kind !== "ANODE_STEEL" || item.unit !== "MILLIMETRE") {
    throw new Refusal("not-found", "Bars are anode steel that is counted by its length.");
  }
  return item;
}

/** @throws Refusal conflict where nobody has said what the bars measure */
export async function requireSection(db: Db, itemId: string): Promise<SectionRow> {
  const section = await findSection(db, itemId);
  if (!section) {
    throw new Refusal("conflict", "Say first what the bars of this item measure.", {
      itemId: "Its section is missing.",
    });
  }
  return section;
}

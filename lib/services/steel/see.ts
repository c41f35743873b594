import { type Actor, may, requirePermission } from "@/lib/access";
import {
  type CutRow,
  findCut,
  findSection,
  type ItemRow,
  listCuts,
  listSectionItems,
  listTanks,
  reading,
  type SectionRow,
  type StoredCutting,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { type LotOnRack, seeRack } from "./rack";
import { requireSteel } from "./section";

/** A cut as a screen shows it; its cost only to those who see money. */
export type CutView = Omit<CutRow, "plan" | "costMinor"> & {
  readonly plan: StoredCutting;
  readonly costMinor: number | null;
};

export type BarsPage = {
  readonly item: ItemRow;
  /** null where nobody has said what the bars measure */
  readonly section: SectionRow | null;
  readonly rack: readonly LotOnRack[];
  readonly cuts: readonly CutView[];
};

const RECENT = 12;

/** The bars of an item: section, rack and latest cuts. @throws Refusal not-allowed | not-found */
export async function barsPage(actor: Actor, itemId: string): Promise<BarsPage> {
  requirePermission(actor, "see-shop");
  return reading(async (db) => {
    const item = await requireSteel(db, itemId);
    const section = await findSection(db, itemId);
    const [rack, cuts] = await Promise.all([
      section ? seeRack(db, section) : [],
      listCuts(db, { itemId }, RECENT),
    ]);
    return { item, section, rack, cuts: cuts.map((cut) => viewOf(actor, cut)) };
  });
}

/** What a cut can be planned for: tanks in use, steel with a section, and cuts that wait to be hung. */
export async function cuttingChoices(actor: Actor) {
  requirePermission(actor, "see-shop");
  return reading(async (db) => {
    const [tanks, steels, waiting] = await Promise.all([
      listTanks(db),
      listSectionItems(db),
      listCuts(db, { state: "CUT" }, RECENT),
    ]);
    return { tanks, steels, waiting: waiting.map((cut) => viewOf(actor, cut)) };
  });
}

/** One cut. @throws Refusal not-allowed | not-found */
export async function seeCut(actor: Actor, cutId: string): Promise<CutView> {
  requirePermission(actor, "see-shop");
  const cut = await reading((db) => findCut(db, cutId));
  if (!cut) throw new Refusal("not-found", "This cut was never made.");
  return viewOf(actor, cut);
}

/** The plan was written by `cutSteel` alone. */
function viewOf(actor: Actor, { plan, costMinor, ...cut }: CutRow): CutView {
  return {
    ...cut,
    plan: plan as unknown as StoredCutting,
    costMinor: may(actor, "see-money") ? costMinor : null,
  };
}

import { type Actor, may, requirePermission } from "@/lib/access";
import {
  type AnodeRow,
  type BathRow,
  curingUntil,
  type Db,
  findTank,
  type ItemKind,
  type ItemRow,
  listBaths,
  listItems,
  listRemovedAnodes,
  listRuns,
  listRunsBetween,
  openLeaks,
  reading,
  type RunRow,
  stockLevels,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { writtenOff } from "@/lib/stock";
import { type AnodeFigure, anodeFigures } from "../figures";
import { type StockChoice } from "../runs";
import { type BathFigures, bathFigures, type TankUpkeep, tankUpkeep } from "../tanks";
import { workingHours } from "../working-hours";
import { seenOf, type Strip, stripFrom } from "./see-board";
import { type TankView, tankView } from "./tank-view";

/** Lines of history shown on a tank's page. */
const HISTORY = 10;

/** Steel for anodes, with the mass of one unit. */
export type SteelChoice = StockChoice & { readonly gramsPerUnit: number | null };

/** An anode that was taken out; what no run bore of its cost, to those who see money. */
export type RemovedAnode = AnodeRow & { readonly writtenOffMinor: number | null };

export type TankPage = TankView & {
  readonly strip: Strip;
  readonly baths: readonly BathRow[];
  readonly removedAnodes: readonly RemovedAnode[];
  /** leaks that nobody has closed */
  readonly leaks: { readonly open: number; readonly patched: number };
  /** until a patch has set the tank takes neither bath nor load; null where none sets */
  readonly curingUntil: Date | null;
  readonly recentRuns: readonly RunRow[];
  readonly salts: readonly StockChoice[];
  readonly steels: readonly SteelChoice[];
  /** replace-by dates of the anodes that hang in it */
  readonly wear: readonly AnodeFigure[];
  /** null for a drained tank */
  readonly bathFigures: BathFigures | null;
  readonly upkeep: readonly TankUpkeep[];
};

/** One tank with its history, and what can be put in it. @throws Refusal not-allowed | not-found */
export async function seeTank(actor: Actor, tankId: string, now: Date): Promise<TankPage> {
  requirePermission(actor, "see-shop");
  const wear = await anodeFigures(actor, now);
  return reading(async (db) => {
    const tank = await findTank(db, tankId);
    if (!tank) throw new Refusal("not-found", "This tank is not in the shop.");
    const strip = await stripFrom(db, now);
    const [runs, baths, removedAnodes, recent, stock, leaks, curing] = await Promise.all([
      listRunsBetween(db, new Date(strip.fromMs), new Date(strip.untilMs), { tankId }),
      listBaths(db, tankId, HISTORY),
      listRemovedAnodes(db, tankId, HISTORY),
      listRuns(db, { tankId }, { skip: 0, take: HISTORY }),
      choices(db, now),
      openLeaks(db, tankId),
      curingUntil(db, tankId, now),
    ]);
    const seen = await seenOf(db, runs, now);
    const view = tankView(tank, runs, seen, now);
    const { timeZone } = await workingHours(db, now);
    const { running } = view;
    return {
      ...view,
      bathFigures: bathFigures(
        tank,
        running && { run: running.run, latest: running.progress.latest },
      ),
      upkeep: await tankUpkeep(db, tank, timeZone, now),
      ...stock,
      strip,
      baths,
      removedAnodes: removedAnodes.map((anode) => withWrittenOff(actor, anode)),
      leaks,
      curingUntil: curing,
      recentRuns: recent.runs,
      wear: wear.filter(({ anode }) => anode.tankId === tankId),
    };
  });
}

function withWrittenOff(actor: Actor, anode: AnodeRow): RemovedAnode {
  const writtenMinor = anode.wear.reduce((sum, { costMinor }) => sum + costMinor, 0);
  const isShown = may(actor, "see-money");
  return { ...anode, writtenOffMinor: isShown ? writtenOff({ ...anode, writtenMinor }) : null };
}

async function choices(
  db: Db,
  now: Date,
): Promise<{ readonly salts: readonly StockChoice[]; readonly steels: readonly SteelChoice[] }> {
  const [items, levels] = await Promise.all([listItems(db), stockLevels(db, now)]);
  const ofKind = (kind: ItemKind): readonly SteelChoice[] =>
    items
      .filter((item) => item.kind === kind)
      .map((item) => asChoice(item, levels.get(item.id)?.onHand ?? 0));
  return { salts: ofKind("SALT"), steels: ofKind("ANODE_STEEL") };
}

const asChoice = ({ id, name, unit, gramsPerUnit }: ItemRow, onHand: number): SteelChoice => ({
  itemId: id,
  name,
  unit,
  gramsPerUnit,
  onHand,
});

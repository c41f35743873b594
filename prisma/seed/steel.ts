/** Bars of the example shop's anode steel, two offcuts on the rack, its epoxy's sheet, and a leak that was patched. */
import { DAY, HOUR } from "./calendar";
import { ITEM_NAMES } from "./stockroom";
import { note, type World } from "./world";

const STOCK_LENGTH_MM = 3000;
const OFFCUTS_MM = [1184, 430] as const;
/** Sets while a tank is between two baths. */
const CURE_HOURS = 1;

export function addSteelAndEpoxy(world: World): void {
  addBars(world);
  addEpoxy(world);
}

function addBars({ rows, chance, stockroom, people, now }: World): void {
  const { itemId, lots } = stockroom.shelf(ITEM_NAMES.anodeBar);
  rows.sections.push({
    itemId,
    shape: "FLAT",
    widthMm: 25,
    thicknessMm: 5,
    stockLengthMm: STOCK_LENGTH_MM,
    kerfMm: 2,
    leastOffcutMm: 200,
  });
  // One bar was sawn for rods that were tried and given up; what it left lies on the rack.
  const at = new Date(now.getTime() - 20 * DAY);
  const [first] = lots;
  if (!first || first.left < STOCK_LENGTH_MM) return;
  const sawnMm = STOCK_LENGTH_MM - OFFCUTS_MM.reduce((sum, length) => sum + length, 0);
  const note = "rods, tried and given up";
  const enteredById = people.benchId;
  stockroom.use({ name: ITEM_NAMES.anodeBar, quantity: sawnMm, at, note, enteredById });
  for (const lengthMm of OFFCUTS_MM) {
    rows.offcuts.push({ id: chance.uuid(), itemId, lotId: first.id, lengthMm, at, enteredById });
  }
}

function addEpoxy(world: World): void {
  const { rows, stockroom } = world;
  const { itemId } = stockroom.shelf(ITEM_NAMES.epoxy);
  rows.epoxySheets.push({
    itemId,
    hardenerPer100ByMass: 50,
    hardenerPer100ByVolume: 48,
    densityGPerMl: 1.15,
    referenceC: 20,
    potLifeMin: 6,
    cureHours: CURE_HOURS,
    leastCureC: 8,
    shelfLifeDays: 365,
  });
  addPatch(world, itemId);
}

/** A seam that wept when a bath was changed, patched before the next went in. */
function addPatch(world: World, itemId: string): void {
  const { rows, chance, stockroom, people } = world;
  const drained = rows.baths.find(({ disposedAt }) => disposedAt);
  if (!drained?.disposedAt) return;
  const found = new Date(drained.disposedAt);
  const at = new Date(found.getTime() + HOUR / 6);
  const leakId = chance.uuid();
  const use = {
    name: ITEM_NAMES.epoxy,
    quantity: 24,
    at,
    note: "patch: seam under the drain",
    enteredById: people.benchId,
    tankId: drained.tankId,
  };
  const costMinor = stockroom.use(use);
  const lotId = rows.ledger.at(-1)?.lotId;
  if (!lotId || rows.ledger.at(-1)?.itemId !== itemId) return;
  rows.leaks.push({
    id: leakId,
    tankId: drained.tankId,
    foundAt: found,
    foundById: people.benchId,
    place: "Seam under the drain",
    heightMm: 35,
    severity: "WEEPING",
    state: "PATCHED",
    note: "Seen when the bath was changed.",
  });
  rows.patches.push({
    id: chance.uuid(),
    leakId,
    tankId: drained.tankId,
    at,
    patchedById: people.benchId,
    itemId,
    lotId,
    quantity: use.quantity,
    costMinor,
    cureUntil: new Date(at.getTime() + CURE_HOURS * HOUR),
  });
  note(world, at, people.benchId, "leak.patched", leakId);
}

/** The example shop's slips and walks along the shelves: one use that was typed wrong and put right, and a few counts. */
import type { ExampleRows } from "@/lib/data";
import { HOUR } from "./calendar";
import { ITEM_NAMES } from "./stockroom";
import type { World } from "./world";

const MINUTE = 60_000;

export function addShelfChecks(world: World): void {
  correctASlip(world);
  countShelves(world);
}

/** Ten pads were typed where one was taken, just after the newest delivery. */
function correctASlip({ rows, chance, now, people }: World): void {
  const wool = rows.items.find(({ name }) => name === ITEM_NAMES.wool);
  const lot = rows.lots.findLast(({ itemId }) => itemId === wool?.id);
  if (!wool?.id || !lot?.id) return;
  const at = new Date(new Date(lot.receivedAt).getTime() + 30 * MINUTE);
  if (at >= now) return;
  const id = chance.uuid();
  const line = {
    itemId: wool.id,
    lotId: lot.id,
    at,
    kind: "USED",
    enteredById: people.benchId,
  } as const;
  const cost = Math.round((10 * lot.costMinor) / Number(lot.quantity));
  rows.ledger.push(
    { ...line, id, quantity: -10, costMinor: -cost, note: "wiped the bench" },
    {
      ...line,
      quantity: 10,
      costMinor: cost,
      note: "typed ten for one; it was an old pad from the box",
      correctsId: id,
      writtenAt: new Date(Math.min(at.getTime() + 2 * HOUR, now.getTime())),
    },
  );
}

/** The bench counted two shelves this morning, and they agreed. */
function countShelves({ rows, chance, now, people }: World): void {
  const at = new Date(now.getTime() - HOUR);
  for (const name of [ITEM_NAMES.oil, ITEM_NAMES.bakingSoda]) {
    const item = rows.items.find((each) => each.name === name);
    if (!item?.id) continue;
    const there = onHandAt(rows, item.id, at);
    rows.stockCounts.push({
      id: chance.uuid(),
      itemId: item.id,
      countedAt: at,
      at,
      counted: there,
      expected: there,
      costMinor: 0,
      enteredById: people.benchId,
    });
  }
}

function onHandAt(rows: ExampleRows, itemId: string, at: Date): number {
  return rows.ledger
    .filter((line) => line.itemId === itemId && new Date(line.at) <= at)
    .reduce((total, { quantity }) => total + Number(quantity), 0);
}

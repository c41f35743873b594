/**
 * `npm run bench:packing`: how long it takes to say how a load of twelve parts hangs, and how many loads that are known
 * to fit are found to. Measured and printed, never asserted: it depends on the machine.
 */
import { packLoad, type TankShape } from "@/lib/tanks";
import { cutBox, numbersFrom, type Size } from "../support/cut-boxes";

const LOADS = 100;
const WHOLE: Size = [700, 420, 310];
const GAP_MM = 30;
const TANK: TankShape = {
  kind: "TAPERED_BOX",
  topLengthMm: WHOLE[0] + 100,
  topWidthMm: WHOLE[1] + 100,
  bottomLengthMm: WHOLE[0] + 100,
  bottomWidthMm: WHOLE[1] + 100,
  depthMm: WHOLE[2] + 100,
};

type Measured = { readonly packed: boolean; readonly ms: number };

function measure(pieces: number, loose: number, seed: number): Measured {
  const sizes = cutBox(WHOLE, pieces, GAP_MM, loose, numbersFrom(seed));
  const parts = sizes.map(([lengthMm, widthMm, heightMm], index) => ({
    id: `p${index}`,
    box: { lengthMm, widthMm, heightMm },
    quantity: 1,
    massG: 0,
  }));
  const began = performance.now();
  const { packed } = packLoad({
    shape: TANK,
    workingLevelMm: WHOLE[2] + 50,
    clearanceMm: 50,
    gapMm: GAP_MM,
    parts,
  });
  return { packed, ms: performance.now() - began };
}

for (let warm = 0; warm < 20; warm += 1) measure(12, 0, warm);
console.log("pieces  planed off  found  median ms  p95 ms  worst ms");
for (const pieces of [4, 8, 12]) {
  for (const loose of [0, 0.05, 0.1, 0.15, 0.2]) {
    const loads = Array.from({ length: LOADS }, (_, seed) => measure(pieces, loose, seed + 1));
    const times = loads.map(({ ms }) => ms).sort((a, b) => a - b);
    const percentile = (share: number): string =>
      (times[Math.ceil(share * LOADS) - 1] ?? Number.NaN).toFixed(1).padStart(9);
    const found = loads.filter(({ packed }) => packed).length;
    console.log(
      `${String(pieces).padStart(6)}  ${`${100 * loose} %`.padStart(10)}  ${`${(100 * found) / LOADS} %`.padStart(5)}  ` +
        `${percentile(0.5)} ${percentile(0.95)} ${percentile(1)}`,
    );
  }
}

import type { TankRow } from "@/lib/data";
import { Refusal } from "@/lib/errors";
import {
  type AnodePieces,
  type AnodeWay,
  ringPieces,
  type Section,
  sizeAtHeight,
  straightPieces,
  type Wall,
} from "@/lib/stock";
import { sensible } from "../sensible";

/** An anode as a person wants it cut for a tank. What a way has no use for is left aside. */
export type AnodeWish = {
  readonly tankId: string;
  readonly itemId: string;
  readonly way: AnodeWay;
  /** RING: its middle above the floor, mm. STRIPS, ROD: their foot above the floor, mm */
  readonly heightMm: number;
  /** RING: between wall and steel, mm */
  readonly offsetMm: number;
  /** RING in a box: inside radius of its corners, mm */
  readonly cornerMm: number;
  /** RING: left open between the ends, mm */
  readonly gapMm: number;
  /** for the clamp: RING: what is bent up from the ring, STRIPS, ROD: what stands over the rim, mm */
  readonly overhangMm: number;
  /** STRIPS, ROD: how many, 1 to 99 */
  readonly count: number;
};

/**
 * The pieces for an anode in a tank, up to its working level.
 *
 * @throws Refusal invalid where it does not fit, hangs out of the bath, or its clamp would be under the level
 */
export function piecesFor(section: Section, tank: TankRow, wish: AnodeWish): AnodePieces {
  const { workingLevelMm: levelMm, depthMm } = tank;
  if (wish.way !== "RING") {
    const { way, count, heightMm: footMm, overhangMm } = wish;
    return sensible(() =>
      straightPieces(way, { footMm, levelMm, topMm: depthMm + overhangMm, count }),
    );
  }
  const standsMm = section.widthMm / 2;
  if (!(wish.heightMm - standsMm >= 0 && wish.heightMm + standsMm <= levelMm)) {
    throw new Refusal("invalid", "The ring must lie in the bath as a whole.", {
      heightMm: `From {${Math.ceil(standsMm)} mm} to {${Math.floor(levelMm - standsMm)} mm}.`,
    });
  }
  const least = Math.ceil(levelMm - wish.heightMm) + 1;
  if (!(wish.overhangMm >= least)) {
    throw new Refusal("invalid", "The clip of the positive lead stays above the liquid.", {
      overhangMm: `At least {${least} mm}, which only just reaches the level.`,
    });
  }
  return sensible(() => ringPieces(section, { ...wish, wall: wallAt(tank, wish.heightMm) }));
}

function wallAt(tank: TankRow, heightMm: number): Wall {
  const { depthMm, kind } = tank;
  const across = (topMm: number, bottomMm: number): number =>
    kind === "MEASURED"
      ? Math.min(topMm, bottomMm)
      : sizeAtHeight({ topMm, bottomMm, depthMm }, heightMm);
  const lengthMm = across(tank.topLengthMm, tank.bottomLengthMm);
  if (kind === "ROUND") return { shape: "ROUND", diameterMm: lengthMm };
  return { shape: "BOX", lengthMm, widthMm: across(tank.topWidthMm, tank.bottomWidthMm) };
}

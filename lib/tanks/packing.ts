import { checkNonNegative, checkPositive, millimetres } from "@/lib/units";
import type { PartBox } from "./fit";
import type { Load, LoadPart, Place } from "./load";
import { cannotHangLevel, roomShare } from "./packing-bound";
import { checkPacking } from "./packing-check";
import { searchPacking } from "./packing-search";
import {
  bulk,
  hangings,
  type Hung,
  isInside,
  type Kind,
  type PackingSpace,
  packingSpace,
} from "./packing-space";
import { levelWithPart } from "./shape";

/**
 * Why a load does not go in. Proven, of boxes: one piece is too big alone, all together take up more room than there
 * is, or the bath would run over. Sure of pieces that hang level and square: none level. Not looked for: too many. Otherwise: none found.
 */
export type NotPacked =
  "TOO_BIG" | "OVER_RIM" | "TOO_MUCH" | "NONE_LEVEL" | "TOO_MANY" | "NONE_FOUND";

/** Nobody hangs more one by one: small parts go on a rack or in a basket. */
export const MOST_PIECES = 120;

export type Packing =
  | {
      readonly packed: true;
      readonly space: PackingSpace;
      readonly places: readonly Place[];
      /** mm, with the load in */
      readonly levelMm: number;
      readonly words: string;
    }
  | {
      readonly packed: false;
      readonly why: NotPacked;
      /** Nobody can hang it: no other turn, tilt or patience will do. */
      readonly proven: boolean;
      readonly words: string;
      /** Pieces without a place in the fullest arrangement found, by part. */
      readonly leftOver: readonly { readonly id: string; readonly copies: number }[];
    };

/**
 * How the pieces of a load hang in a tank, each a box that lies in the free bath and keeps the gap to all others;
 * nothing stands on anything, so the gap holds upwards too. What is said to fit has been checked piece by piece by
 * `checkPacking`; what is not found may still be possible, unless `proven`.
 *
 * The answer does not depend on the order of the parts, the clock or chance.
 *
 * @param load measures in mm, each > 0 (clearance, gap and mass ≥ 0); ids differ
 * @throws RangeError naming the measure that is out of range
 * @example packLoad({ shape, workingLevelMm: 360, clearanceMm: 50, gapMm: USUAL_GAP_MM, parts: [hinges, grate] }).packed
 */
export function packLoad(load: Load): Packing {
  checkLoad(load);
  const level = millimetres(load.workingLevelMm);
  const space = packingSpace(load.shape, level, load.clearanceMm);
  const sized = sizeKinds(load);
  if ("tooBig" in sized) {
    const { id, quantity } = sized.tooBig;
    return notPacked("TOO_BIG", [{ id, copies: quantity }], sized.words);
  }
  const massG = load.parts.reduce((sum, part) => sum + part.massG * part.quantity, 0);
  const loaded = levelWithPart(load.shape, level, massG);
  if (!loaded.staysIn) return notPacked("OVER_RIM", [], "The bath would run over the rim.");
  const { kinds } = sized;
  const refusal = refuse(kinds, space, load.gapMm);
  if (refusal === "TOO_MANY") return notPacked(refusal, []);
  const search = { space, gapMm: load.gapMm, kinds };
  const hung = refusal ? searchPacking(search, 0) : searchPacking(search);
  const places = named(inTheMiddle(hung, space), kinds);
  if (checkPacking(load, places).length === 0) {
    return { packed: true, space, places, levelMm: loaded.levelMm, words: wordsFor(places) };
  }
  return notPacked(refusal ?? "NONE_FOUND", leftOver(load, places));
}

function checkLoad({ gapMm, parts }: Load): void {
  checkNonNegative("gap", gapMm, "mm");
  if (parts.length === 0) throw new RangeError("a load needs one part or more, got 0");
  if (new Set(parts.map(({ id }) => id)).size < parts.length) {
    throw new RangeError("the parts of a load need ids that differ");
  }
  for (const { quantity, massG } of parts) {
    checkPositive("quantity", quantity, "pieces");
    if (!Number.isInteger(quantity)) {
      throw new RangeError(`quantity must be a whole number of pieces, got ${quantity}`);
    }
    checkNonNegative("mass of a piece", massG, "g");
  }
}

/** Pieces of one size, with the names they go by. */
type SizedKind = Kind & {
  readonly box: PartBox;
  readonly names: readonly { readonly id: string; readonly copy: number }[];
};

/** Parts by size, the bulkiest first, whatever the order they came in. */
function sizeKinds(
  load: Load,
):
  { readonly kinds: readonly SizedKind[] } | { readonly tooBig: LoadPart; readonly words: string } {
  const groups = new Map<string, LoadPart[]>();
  for (const part of [...load.parts].sort((a, b) => (a.id < b.id ? -1 : 1))) {
    const key = Object.values(bySize(part.box)).join(" ");
    groups.set(key, [...(groups.get(key) ?? []), part]);
  }
  const kinds: SizedKind[] = [];
  for (const parts of groups.values()) {
    const [first] = parts;
    if (!first) continue;
    const box = bySize(first.box);
    const level = millimetres(load.workingLevelMm);
    const ways = hangings(box, load.shape, level, load.clearanceMm);
    if (typeof ways === "string") return { tooBig: first, words: ways };
    const names = parts.flatMap(({ id, quantity }) =>
      Array.from({ length: quantity }, (_, index) => ({ id, copy: index + 1 })),
    );
    kinds.push({ box, ways, copies: names.length, names });
  }
  return { kinds: kinds.sort((a, b) => bulk(b.box) - bulk(a.box) || compareBoxes(b.box, a.box)) };
}

function bySize({ lengthMm, widthMm, heightMm }: PartBox): PartBox {
  const [long = 0, middle = 0, short = 0] = [lengthMm, widthMm, heightMm].sort((a, b) => b - a);
  return { lengthMm: long, widthMm: middle, heightMm: short };
}

const compareBoxes = (one: PartBox, other: PartBox): number =>
  one.lengthMm - other.lengthMm || one.widthMm - other.widthMm;

function refuse(
  kinds: readonly SizedKind[],
  space: PackingSpace,
  gapMm: number,
): "TOO_MUCH" | "TOO_MANY" | "NONE_LEVEL" | null {
  // What is dipped end for end stands out of the free space.
  const within = kinds
    .filter(({ ways }) => ways.every(({ lie }) => lie.kind !== "END_FOR_END"))
    .map(({ box, copies }) => ({ ...box, copies }));
  if (roomShare(within, space, gapMm) > 1 + 1e-9) return "TOO_MUCH";
  if (kinds.reduce((sum, { copies }) => sum + copies, 0) > MOST_PIECES) return "TOO_MANY";
  return cannotHangLevel(kinds, space, gapMm) ? "NONE_LEVEL" : null;
}

/** The anode stands all round: the load hangs in the middle, where its outline allows it. */
function inTheMiddle(hung: readonly Hung[], space: PackingSpace): readonly Hung[] {
  const spare = (size: number, ends: readonly number[]): number =>
    (size - Math.max(0, ...ends)) / 2;
  const away = {
    x: spare(
      space.lengthMm,
      hung.map(({ block }) => block.xMm + block.lengthMm),
    ),
    y: spare(
      space.widthMm,
      hung.map(({ block }) => block.yMm + block.widthMm),
    ),
    z: spare(
      space.heightMm,
      hung.map(({ block }) => block.zMm + block.heightMm),
    ),
  };
  const moved = hung.map(({ block, ...rest }) => ({
    ...rest,
    block: {
      ...block,
      xMm: block.xMm + away.x,
      yMm: block.yMm + away.y,
      zMm: block.zMm + away.z,
    },
  }));
  return moved.every(({ block }) => isInside(block, space)) ? moved : hung;
}

function named(hung: readonly Hung[], kinds: readonly SizedKind[]): Place[] {
  const given = kinds.map(() => 0);
  return hung.flatMap(({ kind, hanging, block }) => {
    const name = kinds[kind]?.names[given[kind] ?? 0];
    given[kind] = (given[kind] ?? 0) + 1;
    return name ? [{ ...name, ...hanging, ...block }] : [];
  });
}

function leftOver(
  { parts }: Load,
  places: readonly Place[],
): { readonly id: string; readonly copies: number }[] {
  return parts
    .map(({ id, quantity }) => ({
      id,
      copies: quantity - places.filter((place) => place.id === id).length,
    }))
    .filter(({ copies }) => copies > 0);
}

const WORDS: Readonly<Record<NotPacked, string>> = {
  TOO_BIG: "One part does not fit even alone.",
  OVER_RIM: "The bath would run over the rim.",
  TOO_MUCH: "Together they take up more room than the free bath has.",
  NONE_LEVEL: "They cannot all hang level and clear of each other.",
  TOO_MANY: `More than ${MOST_PIECES} pieces are not laid out one by one.`,
  NONE_FOUND: "No way was found to hang them all clear of each other.",
};

function notPacked(
  why: NotPacked,
  left: readonly { readonly id: string; readonly copies: number }[],
  words = WORDS[why],
): Packing {
  const proven = why === "TOO_BIG" || why === "OVER_RIM" || why === "TOO_MUCH";
  return { packed: false, why, proven, words, leftOver: left };
}

function wordsFor(places: readonly Place[]): string {
  if (places.length === 1) return "It hangs clear of the anode.";
  return `All ${places.length} pieces hang clear of each other and of the anode.`;
}

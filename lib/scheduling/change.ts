import type { Board, BoardDip, TankNeeds } from "./board";

/** Something that a shop could have more of. */
export type ShopChange =
  /** one more tank, of the same kind and on the same supply */
  | { readonly kind: "TANK"; readonly likeTankId: string }
  /** a supply of the same rating for this tank alone */
  | { readonly kind: "SUPPLY"; readonly tankId: string }
  /** one more pair of hands, whenever the shop is open */
  | { readonly kind: "HANDS" };

/**
 * The board of the same shop with something more.
 *
 * A new tank takes whatever the tank that it is like takes, on the same terms; what is booked stays where it is.
 *
 * @throws RangeError when the tank is none of the board's
 * @example changedBoard(board, { kind: "HANDS" }).hands // board.hands + 1
 */
export function changedBoard(board: Board, change: ShopChange): Board {
  if (change.kind === "HANDS") return { ...board, hands: board.hands + 1 };
  const tankId = change.kind === "TANK" ? change.likeTankId : change.tankId;
  const tank = board.tanks.find(({ id }) => id === tankId);
  if (!tank) throw new RangeError(`tank must be one of the board's, got ${tankId}`);
  return change.kind === "TANK" ? withTwin(board, tank) : withOwnSupply(board, tank);
}

/** The id that `changedBoard` gives the new tank: the old one's, with as many primes as make it new. */
export function twinId(board: Board, likeTankId: string): string {
  let id = `${likeTankId}′`;
  while (board.tanks.some((tank) => tank.id === id)) id += "′";
  return id;
}

/** A part's dip that may go in the twin wherever it may go in the tank that the twin is like. */
export function alsoIn<Needs extends TankNeeds>(
  tanks: ReadonlyMap<string, Needs>,
  likeTankId: string,
  twin: string,
): ReadonlyMap<string, Needs> {
  const needs = tanks.get(likeTankId);
  return needs ? new Map([...tanks, [twin, needs]]) : tanks;
}

function withTwin(board: Board, like: Board["tanks"][number]): Board {
  const twin = twinId(board, like.id);
  const dips: BoardDip[] = board.dips.map((dip) => ({
    ...dip,
    tanks: alsoIn(dip.tanks, like.id, twin),
  }));
  return {
    ...board,
    dips,
    tanks: [...board.tanks, { id: twin, supplyId: like.supplyId }],
    share: (tankId, dipIds) => board.share(tankId === twin ? like.id : tankId, dipIds),
  };
}

function withOwnSupply(board: Board, tank: Board["tanks"][number]): Board {
  const old = board.supplies.find(({ id }) => id === tank.supplyId);
  if (!old) throw new RangeError(`supply of tank ${tank.id} must be one of the board's`);
  let id = `${old.id}′`;
  while (board.supplies.some((supply) => supply.id === id)) id += "′";
  return {
    ...board,
    supplies: [...board.supplies, { id, ratingA: old.ratingA }],
    tanks: board.tanks.map((other) => (other.id === tank.id ? { ...other, supplyId: id } : other)),
  };
}

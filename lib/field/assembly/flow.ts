import { Board, NUMBER } from "./board";

/** The finest grid has the same conductances everywhere, those below have their own: told apart when compiled. */
export type Same = i32;
export type Own = f32;

/**
 * What the neighbours of four cells send them, where all conductances are the same.
 *
 * @param own, other  offset of the cells' colour and of the other one
 * @param p           place of the cells in their colour's array
 * @param beside      as `besideAt`
 */
export function sameFlow(board: Board, own: usize, other: usize, p: usize, beside: isize): v128 {
  const q = board.x + other + p;
  const row = board.row;
  const layer = board.layer;
  return f32x4.add(
    f32x4.add(
      f32x4.mul(f32x4.splat(board.perX), f32x4.add(v128.load(q), v128.load(q + beside))),
      f32x4.mul(f32x4.splat(board.perY), f32x4.add(v128.load(q - row), v128.load(q + row))),
    ),
    f32x4.mul(f32x4.splat(board.perZ), f32x4.add(v128.load(q - layer), v128.load(q + layer))),
  );
}

/** As `sameFlow`, where each cell has its own conductances: a link is kept with the cell that it leads on from. */
export function ownFlow(board: Board, own: usize, other: usize, p: usize, beside: isize): v128 {
  const q = other + p;
  const o = own + p;
  const row = board.row;
  const layer = board.layer;
  const after = beside > 0 ? q + beside : q;
  const before = after - NUMBER;
  return f32x4.add(
    f32x4.add(
      f32x4.add(through(board.toX, o, board.x, after), through(board.toX, before, board.x, before)),
      f32x4.add(
        through(board.toY, o, board.x, q + row),
        through(board.toY, q - row, board.x, q - row),
      ),
    ),
    f32x4.add(
      through(board.toZ, o, board.x, q + layer),
      through(board.toZ, q - layer, board.x, q - layer),
    ),
  );
}

function through(links: usize, link: usize, x: usize, from: usize): v128 {
  return f32x4.mul(v128.load(links + link), v128.load(x + from));
}

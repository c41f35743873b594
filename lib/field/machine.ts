import { type Board, boardOf, layOut } from "./board";
import { giveBack, Ground } from "./ground";
import { kernels } from "./kernels";
import type { Levels } from "./levels";
import { leaksInto, type Rim, rimOf } from "./rim";
import type { Faces } from "./scene";

/*
 * The solver's memory and what runs in it: the passes over the grids are WebAssembly, four cells at a time, compiled
 * from the folder assembly by `npm run kernels`; here their arrays are laid out and filled.
 */

/** The passes: see assembly. */
type Passes = {
  readonly correct: (board: number) => number;
  readonly step: (gradients: number, carried: number, product: number) => number;
  readonly takeGain: (gradients: number) => void;
  readonly refresh: (gradients: number) => number;
};

/** Bytes of a number in single and in double precision, and of a place. */
const [SINGLE, DOUBLE, PLACE] = [4, 8, 4] as const;
/** Bytes of the records `Board` and `Gradients` of the folder assembly, and of the places that they begin with. */
const RECORD = 64;
const BOARD_PLACES = 13;
const GRADIENTS_PLACES = 10;

/** Places of a grid's arrays, bytes. */
type Storey = {
  readonly board: Board;
  readonly record: number;
  readonly x: number;
  readonly b: number;
  readonly inverse: number;
  /** Of the links along each axis; none on the finest grid, where all are alike. */
  readonly links: readonly number[];
};

/** A scene's grids, laid out, with the passes over them. About 45 bytes a cell. */
export class Machine {
  /** V in each cell of the finest board; where to start from, and the answer. */
  readonly potential: Float64Array;
  /** What the electrodes send into each cell of the finest rim, A/κ. */
  readonly source: Float64Array;
  readonly finest: Board;
  /** Of the finest grid. */
  readonly rim: Rim;

  private readonly storeys: readonly Storey[];
  private readonly rims: readonly Rim[];
  private readonly rest: Float64Array;
  private readonly restSingle: Float32Array;
  private readonly gradients: number;
  private readonly memory: WebAssembly.Memory;
  private readonly buffer: ArrayBuffer;
  private readonly passes: Passes;
  private readonly perAxis: Levels["perAxis"];

  /** Of the levels nothing is kept: they are several times as large as what the passes need. */
  constructor(
    levels: Levels,
    private readonly faces: Faces,
  ) {
    this.perAxis = levels.perAxis;
    const ground = new Ground();
    this.storeys = levels.links.map(({ shape }, depth) =>
      claimStorey(ground, boardOf(shape), depth > 0),
    );
    this.rims = this.storeys.map(({ board }, depth) => rimOf(board, levels, depth));
    this.finest = this.storeys[0]!.board;
    this.rim = this.rims[0]!;
    const cells = 2 * this.finest.size;
    const sources = this.rim.cells.length;
    const [potential, rest] = [ground.claim(DOUBLE * cells), ground.claim(DOUBLE * cells)];
    const restSingle = ground.claim(SINGLE * cells);
    const [gain, direction, flow] = [1, 2, 3].map(() => ground.claim(SINGLE * cells));
    const [rimCells, source] = [ground.claim(PLACE * sources), ground.claim(DOUBLE * sources)];
    this.gradients = ground.claim(RECORD);

    this.memory = ground.lay();
    this.buffer = this.memory.buffer;
    this.potential = new Float64Array(this.buffer, potential, cells);
    this.rest = new Float64Array(this.buffer, rest, cells);
    this.restSingle = new Float32Array(this.buffer, restSingle, cells);
    this.source = new Float64Array(this.buffer, source, sources);
    new Int32Array(this.buffer, rimCells, sources).set(this.rim.cells);
    new Uint32Array(this.buffer, this.gradients, GRADIENTS_PLACES).set([
      ...[this.storeys[0]!.record, potential, rest, restSingle],
      ...[gain!, direction!, flow!, rimCells, source, sources],
    ]);
    new Float64Array(this.buffer, this.gradients + GRADIENTS_PLACES * PLACE, 3).set(levels.perAxis);
    this.storeys.forEach((_, depth) => this.fillStorey(levels, depth));
    this.fillRest(levels);
    this.passes = passesIn(this.memory);
  }

  /** Gives the memory back: nothing of the machine may be used after. */
  release(): void {
    giveBack(this.memory);
  }

  /** One V-cycle on the residual. @returns the inner product of the correction and the residual */
  correct(): number {
    return this.passes.correct(this.storeys[0]!.record);
  }

  /** One step of the conjugate gradients. @returns the square of the residual that is left */
  step(carried: number, product: number): number {
    return this.passes.step(this.gradients, carried, product);
  }

  /** Puts what the steps have gained into the potential; the next step begins anew. */
  takeGain(): void {
    this.passes.takeGain(this.gradients);
  }

  /** Works the residual out from the potential. @returns its square */
  refresh(): number {
    return this.passes.refresh(this.gradients);
  }

  /**
   * Puts the conductances to the electrodes into every grid: see `leaksInto`.
   *
   * @returns the conductance of each face on the finest grid, m; 0 where the bath is cut off
   */
  setLeaks(lengthM: readonly number[], addedM?: Float64Array): Float64Array {
    const alike = this.alike();
    const all = this.storeys.map(({ board, inverse }, depth) => {
      const rim = this.rims[depth]!;
      const { leaks, sums } = leaksInto(rim, this.faces, depth, lengthM, addedM);
      const inverses = new Float32Array(this.buffer, inverse, 2 * board.size);
      rim.cells.forEach((cell, place) => {
        inverses[cell] = 1 / sums[place]!;
        if (depth === 0) this.rest[cell] = this.restSingle[cell] = sums[place]! - alike;
      });
      return leaks;
    });
    return all[0]!;
  }

  /** Sum of the conductances of a cell with bath all round, m; as `buildLevels` adds it up. */
  private alike(): number {
    const [x, y, z] = this.perAxis;
    return 2 * x + 2 * y + 2 * z;
  }

  private fillStorey(levels: Levels, depth: number): void {
    const { board, record, x, b, inverse, links } = this.storeys[depth]!;
    const below = this.storeys[depth + 1]?.record ?? 0;
    const { run, row, layer, size, shape } = board;
    new Uint32Array(this.buffer, record, BOARD_PLACES).set([
      ...[SINGLE * run, shape.ny, shape.nz, SINGLE * row, SINGLE * layer, SINGLE * size],
      ...[x, b, inverse, below, ...links],
    ]);
    new Float32Array(this.buffer, record + BOARD_PLACES * PLACE, 3).set(this.perAxis);
    const sums = levels.sums[depth]!;
    const over = new Float32Array(this.buffer, inverse, 2 * board.size);
    layOut(
      board,
      sums.map((sum) => (sum > 0 ? 1 / sum : 0)),
      over,
    );
    const { toX, toY, toZ } = levels.links[depth]!;
    [toX, toY, toZ].forEach((along, axis) => {
      const at = links[axis];
      if (at !== undefined) layOut(board, along, new Float32Array(this.buffer, at, 2 * board.size));
    });
  }

  private fillRest(levels: Levels): void {
    const alike = this.alike();
    layOut(
      this.finest,
      levels.sums[0]!.map((sum) => (sum > 0 ? sum - alike : 0)),
      this.rest,
    );
    this.restSingle.set(this.rest);
  }
}

function claimStorey(ground: Ground, board: Board, ownLinks: boolean): Storey {
  const array = (): number => ground.claim(SINGLE * 2 * board.size);
  return {
    board,
    record: ground.claim(RECORD),
    ...{ x: array(), b: array(), inverse: array() },
    links: ownLinks ? [array(), array(), array()] : [],
  };
}

let compiled: WebAssembly.Module | undefined;

function passesIn(memory: WebAssembly.Memory): Passes {
  compiled ??= new WebAssembly.Module(kernels());
  return new WebAssembly.Instance(compiled, { env: { memory } }).exports as unknown as Passes;
}

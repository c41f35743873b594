import type { PartShape } from "@/lib/treatment";
import { SHAPE_PATHS } from "./shape-glyph";

/** A measure on a drawing: a line between two points, with the name of its field beside it. */
type Mark = {
  readonly words: string;
  readonly line: readonly [x1: number, y1: number, x2: number, y2: number];
  readonly at: readonly [x: number, y: number];
};

const mark = (words: string, line: Mark["line"], at: Mark["at"]): Mark => ({ words, line, at });

/** Units of the drawings are those of the shapes' own paths, 64 by 48. */
const MARKS: Readonly<Record<PartShape, readonly Mark[]>> = {
  PLATE: [
    mark("length", [5, 36, 37, 43], [16, 46]),
    mark("width", [41, 42, 60, 32], [59, 43]),
    mark("height", [2, 30, 2, 33], [-8, 28]),
  ],
  BAR_GRID: [
    mark("length", [8, 44, 56, 44], [32, 51]),
    mark("width", [60, 8, 60, 40], [69, 26]),
    mark("bar", [24.5, 4, 27.5, 4], [26, 1]),
  ],
  BOX: [
    mark("length", [7, 35, 37, 43], [16, 46]),
    mark("width", [41, 43, 59, 33], [59, 43]),
    mark("height", [4, 16, 4, 32], [-6, 25]),
    mark("wall", [55, 11, 58, 14], [63, 10]),
  ],
  TUBE: [
    mark("length", [14, 39, 50, 39], [32, 46]),
    mark("width", [60, 14, 60, 34], [69, 23]),
    mark("and height", [60, 14, 60, 34], [69, 29]),
    mark("wall", [6, 14, 6, 19], [-1, 12]),
  ],
  PAN: [
    mark("length and width", [8, 7, 56, 7], [32, 4]),
    mark("height", [61, 18, 61, 40], [71, 31]),
    mark("wall", [4, 18, 7, 18], [-3, 20]),
  ],
  RING: [
    mark("length and width", [8, 42, 56, 42], [32, 49]),
    mark("rim", [44, 24, 56, 24], [63, 25]),
  ],
  SOLID: [
    mark("length", [9, 35, 33, 43], [15, 46]),
    mark("width", [37, 43, 56, 34], [57, 44]),
    mark("height", [6, 18, 6, 32], [-4, 26]),
  ],
};

/** A shape, large, with the names of its measures where they are taken. What it says is also said in words. */
export function ShapeDrawing({ shape }: { readonly shape: PartShape }) {
  return (
    <svg viewBox="-16 -6 98 62" className="h-auto w-full max-w-72" aria-hidden="true">
      <path
        d={SHAPE_PATHS[shape]}
        className="fill-none stroke-magnetite"
        strokeWidth="1.2"
        strokeLinejoin="round"
        strokeLinecap="round"
      />
      {MARKS[shape].map(({ words, line: [x1, y1, x2, y2], at: [x, y] }) => (
        <g key={words}>
          <line {...{ x1, y1, x2, y2 }} className="stroke-bath" strokeWidth="1" />
          <circle cx={x1} cy={y1} r="0.9" className="fill-bath" />
          <circle cx={x2} cy={y2} r="0.9" className="fill-bath" />
          <text x={x} y={y} textAnchor="middle" fontSize="5" className="fill-bath font-semibold">
            {words}
          </text>
        </g>
      ))}
    </svg>
  );
}

/** A load in its tank, from above and from the side, to one scale. */
import type { Load, PackingSpace, Place } from "@/lib/tanks";
import {
  halfOf,
  insideAt,
  type LoadLabel,
  pieceLabel,
  type Point,
  type Tag,
  tagsOf,
  tiltedCorners,
} from "./load-geometry";
import { type Frame, frameOf, polygon } from "./tank-frame";
import { Anodes, barOf, LevelTicks, Surface, Wall } from "./tank-parts";

export type LoadViewProps = {
  /** Id of the figure that the view is of: its title's is made from it. */
  readonly id: string;
  readonly name: string;
  readonly load: Load;
  readonly space: PackingSpace;
  readonly places: readonly Place[];
  readonly parts: readonly LoadLabel[];
  /** mm, with the load in */
  readonly levelMm: number;
  readonly anode: boolean;
};

/** Height of a label for a drawing so wide, mm: readable on a phone. */
const textSize = (width: number): number => width / 22;

const PIECE = "fill-oxide stroke-magnetite";

type TagsProps = { readonly tags: readonly Tag[]; readonly size: number };

/** Marks on the pieces, with an edge in the piece's colour so that they read over lines too. */
function Tags({ tags, size }: TagsProps) {
  return (
    <g
      className="fill-sheet stroke-oxide font-semibold"
      fontSize={size}
      strokeWidth={size / 4}
      paintOrder="stroke"
      textAnchor="middle"
      aria-hidden="true"
    >
      {tags.map(({ at: [x, y], text }) => (
        <text key={`${x} ${y}`} x={x} y={y + size / 3}>
          {text}
        </text>
      ))}
    </g>
  );
}

/** From above, the front at the lower edge: rim, surface, anode, the free bath, and what hangs in it. */
export function LoadFromAbove({ id, name, load, space, places, parts, ...tank }: LoadViewProps) {
  const { shape } = load;
  const frame = frameOf(shape, tank.levelMm);
  const round = shape.kind === "ROUND";
  const rim = insideAt(load, shape.depthMm);
  const bath = insideAt(load, tank.levelMm);
  const { line, width, centre } = frame;
  const height = rim.widthMm + (width - rim.lengthMm);
  const middle = height / 2;
  const [halfLength, halfWidth] = halfOf(space);
  const left = (place: Place): number => centre - halfLength + place.xMm;
  const top = (place: Place): number => middle + halfWidth - place.yMm - place.widthMm;
  const upwards = [...places].sort((a, b) => a.zMm + a.heightMm - b.zMm - b.heightMm);
  const size = textSize(width);
  const outline = { round, centre: [centre, middle] as const };
  return (
    <svg
      viewBox={`0 0 ${width} ${height}`}
      role="img"
      aria-labelledby={`${id}-above`}
      className="h-auto max-h-112 w-full"
    >
      <title id={`${id}-above`}>{`${name} from above, ${piecesWords(places)}`}</title>
      <Outline {...outline} {...bath} className="fill-liquid" />
      {tank.anode ? (
        <Outline
          {...outline}
          lengthMm={bath.lengthMm - 4 * line}
          widthMm={bath.widthMm - 4 * line}
          className="fill-none stroke-zinc"
          strokeWidth={line * 1.3}
        />
      ) : null}
      <Outline
        {...outline}
        lengthMm={space.lengthMm}
        widthMm={space.widthMm}
        className="fill-none stroke-bath"
        strokeWidth={line / 3}
        strokeDasharray={`${line} ${line}`}
      />
      {upwards.map((place) => (
        <rect
          key={`${place.id} ${place.copy}`}
          className={PIECE}
          strokeWidth={line / 3}
          x={left(place)}
          y={top(place)}
          width={place.lengthMm}
          height={place.widthMm}
        />
      ))}
      <Outline {...outline} {...rim} className="fill-none stroke-magnetite" strokeWidth={line} />
      <Tags
        size={size}
        tags={tagsOf(
          upwards.map((place) => ({
            middle: [left(place) + place.lengthMm / 2, top(place) + place.widthMm / 2],
            label: pieceLabel(place, parts),
          })),
          size,
        )}
      />
    </svg>
  );
}

type OutlineProps = {
  readonly round: boolean;
  readonly centre: Point;
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly className: string;
  readonly strokeWidth?: number;
  readonly strokeDasharray?: string;
};

/** A ring of the tank from above. */
function Outline({ round, centre: [x, y], lengthMm, widthMm, ...ink }: OutlineProps) {
  if (round) return <circle cx={x} cy={y} r={Math.max(0, lengthMm / 2)} {...ink} />;
  return (
    <rect
      x={x - lengthMm / 2}
      y={y - widthMm / 2}
      width={Math.max(0, lengthMm)}
      height={Math.max(0, widthMm)}
      {...ink}
    />
  );
}

/** From the front: level, anodes, bar, and every piece at its height; the nearest pieces cover those behind. */
export function LoadFromSide({ id, name, load, space, places, parts, ...tank }: LoadViewProps) {
  const frame = frameOf(load.shape, tank.levelMm);
  const left = (place: Place): number => frame.centre - halfOf(space)[0] + place.xMm;
  const foot = (place: Place): number => frame.floor - load.clearanceMm - place.zMm;
  const forwards = [...places].sort((a, b) => b.yMm - a.yMm);
  const size = textSize(frame.width);
  const highest = Math.min(...places.map((place) => foot(place) - shownHeight(place)));
  const above = Math.min(frame.rim - frame.line * 4, highest - frame.line);
  return (
    <svg
      viewBox={`0 ${above} ${frame.width} ${frame.height - above}`}
      role="img"
      aria-labelledby={`${id}-side`}
      className="h-auto max-h-112 w-full"
    >
      <title id={`${id}-side`}>{`${name} from the front, ${piecesWords(places)}`}</title>
      <polygon className="fill-sheet" points={polygon(frame, frame.depth)} />
      <Surface frame={frame} wavy={false} />
      <LevelTicks frame={frame} />
      {tank.anode ? <Anodes frame={frame} /> : null}
      <Bar frame={frame} />
      {forwards.map((place) => (
        <HungPiece
          key={`${place.id} ${place.copy}`}
          frame={frame}
          place={place}
          left={left(place)}
          foot={foot(place)}
        />
      ))}
      <Wall frame={frame} />
      <Tags
        size={size}
        tags={tagsOf(
          forwards.map((place) => ({
            middle: [left(place) + place.lengthMm / 2, foot(place) - place.heightMm / 2],
            label: pieceLabel(place, parts),
          })),
          size,
        )}
      />
    </svg>
  );
}

/** The wooden bar across the rim that the load hangs from. */
function Bar({ frame }: { readonly frame: Frame }) {
  const { centre, depth, half, line } = frame;
  const reach = half(depth) + line * 2;
  return (
    <line
      className="stroke-rim"
      strokeWidth={line * 1.2}
      x1={centre - reach}
      x2={centre + reach}
      y1={barOf(frame)}
      y2={barOf(frame)}
    />
  );
}

/** What is dipped end for end stands out of the bath. */
const shownHeight = ({ lie, heightMm }: Place): number =>
  lie.kind === "END_FOR_END" ? lie.up : heightMm;

type HungPieceProps = {
  readonly frame: Frame;
  readonly place: Place;
  readonly left: number;
  readonly foot: number;
};

/** A piece on its wire; a tilt along the tank shows, one across it is seen end on. */
function HungPiece({ frame, place, left, foot }: HungPieceProps) {
  const { line } = frame;
  const height = shownHeight(place);
  const middle = left + place.lengthMm / 2;
  const showsTilt = place.lie.kind === "TILTED" && place.follows === "LENGTH";
  const corners = tiltedCorners(place).map(([x, y]) => `${left + x},${foot - y}`);
  return (
    <g strokeWidth={line / 3}>
      <line
        className="stroke-magnetite"
        x1={middle}
        x2={middle}
        y1={barOf(frame)}
        y2={showsTilt ? foot - height / 2 : foot - height}
      />
      {showsTilt ? (
        <polygon className={PIECE} points={corners.join(" ")} />
      ) : (
        <rect
          className={PIECE}
          x={left}
          y={foot - height}
          width={place.lengthMm}
          height={height}
          rx={line / 3}
        />
      )}
    </g>
  );
}

const piecesWords = (places: readonly Place[]): string =>
  places.length === 1 ? "one piece in it" : `${places.length} pieces in it`;

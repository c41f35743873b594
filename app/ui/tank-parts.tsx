/** What stands in and over a drawn tank. Each takes the drawing's frame. */
import type { CSSProperties } from "react";
import { type Frame, type PartSide, polygon } from "./tank-frame";

type InFrame = { readonly frame: Frame };

/** The vessel itself, with the lip it is carried by. */
export function Wall({ frame }: InFrame) {
  const { centre, rim, floor, half, depth, line } = frame;
  const top = half(depth);
  const bottom = half(0);
  const lip = line * 2;
  return (
    <path
      className="fill-none stroke-magnetite"
      strokeWidth={line}
      strokeLinejoin="round"
      strokeLinecap="round"
      d={`M ${centre - top - lip} ${rim} H ${centre - top} L ${centre - bottom} ${floor} H ${centre + bottom} L ${centre + top} ${rim} H ${centre + top + lip}`}
    />
  );
}

/** The bath: a flat surface when still, a lively one when running. */
export function Surface({ frame, wavy }: InFrame & { readonly wavy: boolean }) {
  const { centre, surface, half, level, line } = frame;
  const reach = half(level);
  const wave = wavy ? line * 0.8 : 0;
  const step = reach / 2;
  return (
    <>
      <polygon className="fill-liquid" points={polygon(frame, level)} />
      <path
        className="fill-none stroke-bath"
        strokeWidth={line / 2}
        d={`M ${centre - reach} ${surface} q ${step / 2} ${-wave} ${step} 0 t ${step} 0 t ${step} 0 t ${step} 0`}
      />
    </>
  );
}

/** A rule on the wall, one stroke every 100 mm. */
export function LevelTicks({ frame }: InFrame) {
  const { centre, floor, half, depth, line } = frame;
  const heights = Array.from(
    { length: Math.ceil(depth / 100) - 1 },
    (_, index) => 100 * (index + 1),
  );
  return (
    <g className="stroke-rim" strokeWidth={line / 4} aria-hidden="true">
      {heights.map((height) => (
        <line
          key={height}
          x1={centre + half(height) - line * 2.2}
          x2={centre + half(height) - line * 0.6}
          y1={floor - height}
          y2={floor - height}
        />
      ))}
    </g>
  );
}

/** How far an anode keeps off the wall: a few strokes, so that the drawing shows it apart. */
const offWall = (line: number): number => line * 2.6;

/** Sheets of steel at both walls, and the wire behind that joins them: dashed, being hidden. */
export function Anodes({ frame }: InFrame) {
  const { centre, floor, rim, half, depth, line } = frame;
  const foot = Math.min(30, depth / 10);
  const side = (sign: number): string => {
    const x = (heightMm: number): number => centre + sign * (half(heightMm) - offWall(line));
    return `M ${x(foot)} ${floor - foot} L ${x(depth)} ${rim + line}`;
  };
  const reach = half(depth) - offWall(line);
  return (
    <g className="fill-none stroke-zinc" strokeLinecap="butt">
      <path strokeWidth={line * 1.3} d={`${side(-1)} ${side(1)}`} />
      <path
        strokeWidth={line / 3}
        strokeDasharray={`${line} ${line}`}
        d={`M ${centre - reach} ${rim + line * 1.6} H ${centre + reach}`}
      />
    </g>
  );
}

/** y of the load's upper edge: in the middle of the bath, and under its surface. */
function topOf(part: PartSide, { surface, level }: Frame): number {
  return surface + Math.max(20, (level - part.upMm) / 2);
}

/** y of the middle of the bar that lies on the rim. */
export const barOf = ({ rim, line }: Frame): number => rim - line * 1.1;

/** A part on its wire, from the wooden bar across the rim. */
export function HangingPart({ frame, part }: InFrame & { readonly part: PartSide }) {
  const { centre, half, depth, line } = frame;
  const top = topOf(part, frame);
  const bar = barOf(frame);
  const reach = half(depth) + line * 2;
  return (
    <g className="stroke-magnetite">
      <line
        className="stroke-rim"
        strokeWidth={line * 1.2}
        x1={centre - reach}
        x2={centre + reach}
        y1={bar}
        y2={bar}
      />
      <line strokeWidth={line / 2.5} x1={centre} x2={centre} y1={bar} y2={top} />
      <rect
        className="fill-oxide"
        strokeWidth={line / 2}
        x={centre - part.alongMm / 2}
        y={top}
        width={part.alongMm}
        height={part.upMm}
        rx={line * 0.6}
      />
    </g>
  );
}

/** Gas comes off the part: bubbles rise from its faces to the surface. */
export function Bubbles({ frame, part }: InFrame & { readonly part: PartSide | undefined }) {
  const { centre, surface, level, half, line } = frame;
  const reach = part ? part.alongMm / 2 + line * 1.5 : half(level) * 0.6;
  const from = part ? topOf(part, frame) + part.upMm / 2 : surface + level / 2;
  const places = [-1, -0.62, -0.25, 0.2, 0.55, 1];
  return (
    <g className="fill-bubble stroke-bath" strokeWidth={line / 6} aria-hidden="true">
      {places.map((place, index) => {
        const rise = (from - surface) * (0.5 + 0.25 * (index % 3));
        const style: CSSProperties = {
          animationDelay: `${index * 0.37}s`,
          ...{ "--rise": `${-rise * 0.9}px` },
        };
        return (
          <circle
            key={place}
            className="bubble"
            cx={centre + place * reach}
            cy={surface + rise}
            r={line * (0.5 + 0.15 * (index % 3))}
            style={style}
          />
        );
      })}
    </g>
  );
}

type SupplyProps = InFrame & {
  readonly on: boolean;
  readonly anode: boolean;
  readonly part: boolean;
};

/** The supply over the tank: minus to the part's bar, plus to the anodes. Pale while switched off. */
export function Supply({ frame, on, anode, part }: SupplyProps) {
  const { centre, rim, half, depth, line } = frame;
  const reach = half(depth) - offWall(line);
  const ink = on ? "stroke-magnetite" : "stroke-rim";
  return (
    <g className="fill-none" strokeWidth={line / 2.5} strokeLinejoin="round">
      {part ? (
        <path className={ink} d={`M ${centre - 42} 84 V 112 H ${centre} V ${barOf(frame)}`} />
      ) : null}
      {anode ? (
        <path
          className={on ? "stroke-oxide" : "stroke-rim"}
          d={`M ${centre + 42} 84 V 132 H ${centre + reach} V ${rim + line}`}
        />
      ) : null}
      <rect
        className={`${ink} ${on ? "fill-brass-wash" : "fill-zinc-wash"}`}
        x={centre - 84}
        y={8}
        width={168}
        height={76}
        rx={10}
      />
      <g
        className={on ? "fill-magnetite" : "fill-zinc"}
        fontSize={56}
        textAnchor="middle"
        aria-hidden="true"
      >
        <text x={centre - 42} y={64}>
          −
        </text>
        <text x={centre + 42} y={64}>
          +
        </text>
      </g>
    </g>
  );
}

import type { TankShape } from "@/lib/tanks";

/** How a tank is seen: empty, filled and quiet, or at work. */
export type TankState = "drained" | "still" | "bubbling";

const STATE_WORDS: Readonly<Record<TankState, string>> = {
  drained: "no bath in it",
  still: "filled, switched off",
  bubbling: "running",
};

type TankDrawingProps = {
  readonly name: string;
  readonly shape: TankShape;
  readonly levelMm: number;
  readonly state: TankState;
  /** The load, seen from the side. */
  readonly part?: { readonly alongMm: number; readonly upMm: number } | undefined;
  readonly anode: boolean;
  /** Millimetres across the drawing: equal on a row of tanks, so that they are to one scale. */
  readonly spanMm?: number | undefined;
  readonly className?: string;
};

/** Room around the vessel for rim, leads and supply, mm. */
const MARGIN_MM = 90;
const LEAD_ROOM_MM = 200;

/** A tank from the side, to scale, with its level, anode, load and leads. */
export function TankDrawing(props: TankDrawingProps) {
  const { name, shape, levelMm, state, part, anode, spanMm, className } = props;
  const { top, bottom } = sides(shape);
  const depth = shape.depthMm;
  const width = Math.max(spanMm ?? 0, Math.max(top, bottom) + 2 * MARGIN_MM);
  const height = depth + LEAD_ROOM_MM + MARGIN_MM;
  const centre = width / 2;
  const floor = LEAD_ROOM_MM + depth;
  const surface = floor - levelMm;
  const half = (heightMm: number): number => (bottom + ((top - bottom) * heightMm) / depth) / 2;
  const words = `${name}: ${STATE_WORDS[state]}${part && state !== "drained" ? ", a part in it" : ""}`;
  return (
    <svg
      viewBox={`0 0 ${width} ${height}`}
      role="img"
      aria-label={words}
      className={className ?? "h-auto w-full"}
    >
      {state === "drained" ? null : (
        <polygon
          className="fill-liquid"
          points={points([
            [centre - half(levelMm), surface],
            [centre + half(levelMm), surface],
            [centre + half(0), floor],
            [centre - half(0), floor],
          ])}
        />
      )}
      {anode ? (
        <Anodes centre={centre} half={half} floor={floor} depth={depth} levelMm={levelMm} />
      ) : null}
      {part && state !== "drained" ? (
        <HangingPart centre={centre} surface={surface} levelMm={levelMm} part={part} />
      ) : null}
      {state === "bubbling" ? (
        <Bubbles centre={centre} surface={surface} levelMm={levelMm} spread={half(levelMm) * 0.6} />
      ) : null}
      <path
        className="fill-none stroke-magnetite"
        strokeWidth={14}
        strokeLinejoin="round"
        strokeLinecap="round"
        d={`M ${centre - half(depth)} ${LEAD_ROOM_MM} L ${centre - half(0)} ${floor} H ${centre + half(0)} L ${centre + half(depth)} ${LEAD_ROOM_MM}`}
      />
      {state === "bubbling" ? (
        <Leads centre={centre} half={half(depth)} part={part !== undefined} surface={surface} />
      ) : null}
    </svg>
  );
}

type HalfWidth = (heightMm: number) => number;

function Anodes(props: {
  readonly centre: number;
  readonly half: HalfWidth;
  readonly floor: number;
  readonly depth: number;
  readonly levelMm: number;
}) {
  const { centre, half, floor, depth, levelMm } = props;
  const high = Math.min(depth, levelMm + 60);
  return (
    <g className="stroke-rim" strokeWidth={16} strokeLinecap="butt">
      {[-1, 1].map((side) => (
        <line
          key={side}
          x1={centre + side * (half(20) - 24)}
          y1={floor - 20}
          x2={centre + side * (half(high) - 24)}
          y2={floor - high}
        />
      ))}
    </g>
  );
}

function HangingPart(props: {
  readonly centre: number;
  readonly surface: number;
  readonly levelMm: number;
  readonly part: { readonly alongMm: number; readonly upMm: number };
}) {
  const { centre, surface, levelMm, part } = props;
  const top = surface + Math.max(20, (levelMm - part.upMm) / 2);
  return (
    <g>
      <line
        className="stroke-magnetite"
        strokeWidth={5}
        x1={centre}
        x2={centre}
        y1={LEAD_ROOM_MM - 60}
        y2={top}
      />
      <rect
        className="fill-oxide stroke-magnetite"
        strokeWidth={6}
        x={centre - part.alongMm / 2}
        y={top}
        width={part.alongMm}
        height={part.upMm}
        rx={10}
      />
    </g>
  );
}

function Bubbles(props: {
  readonly centre: number;
  readonly surface: number;
  readonly levelMm: number;
  readonly spread: number;
}) {
  const { centre, surface, levelMm, spread } = props;
  const places = [-0.9, -0.55, -0.2, 0.15, 0.5, 0.85];
  return (
    <g className="fill-sheet" aria-hidden="true">
      {places.map((place, index) => (
        <circle
          key={place}
          className="bubble"
          cx={centre + place * spread}
          cy={surface + levelMm * (0.25 + 0.08 * ((index * 3) % 5))}
          r={9 + (index % 3) * 4}
          style={
            {
              animationDelay: `${index * 0.37}s`,
              "--rise": `-${levelMm * 0.22}px`,
            } as React.CSSProperties
          }
        />
      ))}
    </g>
  );
}

function Leads(props: {
  readonly centre: number;
  readonly half: number;
  readonly part: boolean;
  readonly surface: number;
}) {
  const { centre, half } = props;
  const box = { x: centre - 75, y: 10, width: 150, height: 70 };
  return (
    <g>
      <rect className="fill-sheet stroke-magnetite" strokeWidth={7} rx={8} {...box} />
      <text className="fill-magnetite" x={centre - 42} y={60} fontSize={52} textAnchor="middle">
        −
      </text>
      <text className="fill-magnetite" x={centre + 42} y={60} fontSize={52} textAnchor="middle">
        +
      </text>
      <path
        className="fill-none stroke-magnetite"
        strokeWidth={6}
        d={`M ${centre - 40} 80 V 110 H ${centre} V ${LEAD_ROOM_MM - 60}`}
      />
      <path
        className="fill-none stroke-oxide"
        strokeWidth={6}
        d={`M ${centre + 40} 80 V 110 H ${centre + half - 24} V ${LEAD_ROOM_MM - 10}`}
      />
    </g>
  );
}

function sides(shape: TankShape): { top: number; bottom: number } {
  switch (shape.kind) {
    case "TAPERED_BOX":
      return { top: shape.topLengthMm, bottom: shape.bottomLengthMm };
    case "ROUND":
      return { top: shape.topDiameterMm, bottom: shape.bottomDiameterMm };
    case "MEASURED":
      return { top: shape.lengthMm, bottom: shape.lengthMm * 0.86 };
  }
}

const points = (list: readonly (readonly [number, number])[]): string =>
  list.map(([x, y]) => `${x},${y}`).join(" ");

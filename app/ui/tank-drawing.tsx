import { useId } from "react";
import type { TankShape } from "@/lib/tanks";
import { Anodes, Bubbles, HangingPart, LevelTicks, Supply, Surface, Wall } from "./tank-parts";
import { frameOf, type PartSide, polygon } from "./tank-frame";

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
  readonly part?: PartSide | undefined;
  readonly anode: boolean;
  /** Millimetres across the drawing: equal on a row of tanks, so that they are to one scale. */
  readonly spanMm?: number | undefined;
  readonly className?: string;
};

/**
 * A tank from the side, to scale, standing on the lower edge of the drawing: its level against a rule of 100 mm
 * steps, anodes at the walls, the load hanging from its bar, and leads to the supply. What it shows is also said
 * in words.
 *
 * @example <TankDrawing name="Long trough" shape={shape} levelMm={320} state="still" anode />
 */
export function TankDrawing(props: TankDrawingProps) {
  const { name, shape, levelMm, state, anode, spanMm, className } = props;
  const id = useId();
  const filled = state !== "drained";
  const part = filled ? props.part : undefined;
  const frame = frameOf(shape, filled ? levelMm : 0, spanMm);
  return (
    <svg
      viewBox={`0 0 ${frame.width} ${frame.height}`}
      role="img"
      aria-labelledby={`${id}-title ${id}-words`}
      className={className ?? "h-auto w-full"}
    >
      <title id={`${id}-title`}>{`${name}: ${STATE_WORDS[state]}`}</title>
      <desc id={`${id}-words`}>{inWords(props)}</desc>
      <polygon className="fill-sheet" points={polygon(frame, shape.depthMm)} />
      {filled ? <Surface frame={frame} wavy={state === "bubbling"} /> : null}
      <LevelTicks frame={frame} />
      {anode ? <Anodes frame={frame} /> : null}
      {part ? <HangingPart frame={frame} part={part} /> : null}
      {state === "bubbling" ? <Bubbles frame={frame} part={part} /> : null}
      <Wall frame={frame} />
      {filled ? (
        <Supply frame={frame} on={state === "bubbling"} anode={anode} part={part !== undefined} />
      ) : null}
    </svg>
  );
}

function inWords({ shape, levelMm, state, part, anode }: TankDrawingProps): string {
  const anodes = anode ? "anodes at the walls" : "no anode in it";
  if (state === "drained") return `Seen from the side, empty, ${anodes}.`;
  const share = Math.round((100 * levelMm) / shape.depthMm);
  const load = part ? ", a part hangs in it" : "";
  return `Seen from the side, filled to ${share} % of its depth, ${anodes}${load}.`;
}

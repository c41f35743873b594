"use client";

import { formatMeasure } from "@/lib/units";
import { Button, useUnits } from "@/app/ui";
import { MIDDLE, type PartPlace } from "./hung";
import { alongTank, type View } from "./view";

/** What dragging and arrows do. */
export type Hand = "turn" | "move" | "anode";

const MOVE_KEY_MM = 10;
const ZOOM_KEY = 1.2;

/** The part's place one step on, as the arrow points on the screen. */
export function pushed(
  { alongMm, acrossMm }: PartPlace,
  view: View,
  right: number,
  up: number,
): PartPlace {
  const { along, across } = alongTank(view, right, up);
  return {
    alongMm: alongMm + along * MOVE_KEY_MM,
    acrossMm: acrossMm + across * MOVE_KEY_MM,
  };
}

/** What is moved: the part in the tank, or the anode inside it from where it was found best. */
export type Movable = "part" | "anode";

const MOVED: Readonly<
  Record<Movable, { verb: string; hangs: string; from: string; back: string }>
> = {
  part: {
    verb: "Move the part",
    hangs: "The part hangs",
    from: "from the middle.",
    back: "Back to the middle of the tank",
  },
  anode: {
    verb: "Move the anode inside",
    hangs: "The anode inside hangs",
    from: "from where it was found best.",
    back: "Back to where it was found best",
  },
};

type PlaceProps = {
  readonly what: Movable;
  readonly place: PartPlace;
  readonly reading: string | null;
  readonly onMiddle: () => void;
};

/** Where the part hangs, and the way back. */
export function PlaceLine({ what, place, reading, onMiddle }: PlaceProps) {
  const units = useUnits();
  const moved = place.alongMm !== 0 || place.acrossMm !== 0;
  return (
    <div className="flex min-h-11 flex-wrap items-center gap-x-4 gap-y-2">
      <p role="status">
        {reading ? <strong className="mr-2">{reading}</strong> : null}
        {MOVED[what].hangs} {formatMeasure("length", Math.abs(place.alongMm), units)} along and{" "}
        {formatMeasure("length", Math.abs(place.acrossMm), units)} across {MOVED[what].from}
      </p>
      {moved ? (
        <Button type="button" kind="plain" onClick={onMiddle}>
          {MOVED[what].back}
        </Button>
      ) : null}
    </div>
  );
}

type KeysProps = {
  readonly hand: Hand;
  readonly onArrow: (right: number, up: number) => void;
  /** left out where there is no picture to zoom */
  readonly onZoom?: (by: number) => void;
  readonly onHome?: () => void;
};

/** The same by single taps, for whoever cannot drag. */
export function Keys({ hand, onArrow, onZoom, onHome }: KeysProps) {
  const verb = hand === "turn" ? "Turn" : "Move";
  const keys: readonly (readonly [string, string, () => void])[] = [
    ["←", `${verb} left`, () => onArrow(-1, 0)],
    ["↑", hand === "turn" ? "Look from higher up" : "Move away", () => onArrow(0, 1)],
    ["↓", hand === "turn" ? "Look from lower down" : "Move nearer", () => onArrow(0, -1)],
    ["→", `${verb} right`, () => onArrow(1, 0)],
    ...(onZoom
      ? [
          ["+", "Zoom in", () => onZoom(ZOOM_KEY)] as const,
          ["−", "Zoom out", () => onZoom(1 / ZOOM_KEY)] as const,
        ]
      : []),
    ...(onHome ? [["⌂", "First view", onHome] as const] : []),
  ];
  return (
    <div role="group" aria-label={`${verb} with buttons`} className="flex flex-wrap gap-1">
      {keys.map(([sign, words, act]) => (
        <button
          key={sign}
          type="button"
          aria-label={words}
          title={words}
          onClick={act}
          className="size-12 rounded-[var(--radius-plate)] border border-rim bg-sheet text-lg font-semibold hover:bg-zinc-wash max-sm:size-11"
        >
          <span aria-hidden="true">{sign}</span>
        </button>
      ))}
    </div>
  );
}

type MoverProps = {
  readonly what: Movable;
  readonly place: PartPlace;
  readonly onMove: (place: PartPlace, held: boolean) => void;
};

/** Moves the part, or the anode in it, where there is no picture in space to move it in. */
export function PartMover({ what, place, onMove }: MoverProps) {
  return (
    <div className="plate space-y-3 p-4">
      <p className="font-medium">{MOVED[what].verb}</p>
      <Keys
        hand="move"
        onArrow={(right, up) => onMove(pushed(place, FROM_THE_FRONT, right, up), false)}
      />
      <PlaceLine what={what} place={place} reading={null} onMiddle={() => onMove(MIDDLE, false)} />
    </div>
  );
}

const FROM_THE_FRONT: View = { turn: 0, tip: 0, zoom: 1 };

type TickProps = {
  readonly label: string;
  readonly on: boolean;
  readonly onChange: (on: boolean) => void;
};

/** One thing to show or not. */
export function Tick({ label, on, onChange }: TickProps) {
  return (
    <label className="flex min-h-12 items-center gap-3">
      <input
        type="checkbox"
        className="size-6 accent-bath"
        checked={on}
        onChange={({ target }) => onChange(target.checked)}
      />
      {label}
    </label>
  );
}

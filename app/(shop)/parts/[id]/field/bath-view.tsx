"use client";

import { type KeyboardEvent, type PointerEvent, useEffect, useRef, useState } from "react";
import type { Bathful, FieldLook } from "@/lib/field";
import { formatMeasure } from "@/lib/units";
import { useUnits } from "@/app/ui";
import { Slider } from "../slider";
import { drawBath, type Inks } from "./draw-bath";
import { FIRST_VIEW, movedOnLevel, turned, type View, zoomed } from "./projection";
import { SHADES } from "./shades";

type Place = { readonly alongMm: number; readonly acrossMm: number };
type Props = {
  readonly look: FieldLook;
  readonly bath: Bathful;
  readonly place: Place;
  readonly onMove: (place: Place) => void;
};

/** Dots along an edge of the drawing; the page scales it. */
const EDGE = 900;
/** rad for a drag across the whole picture, and for a key. */
const TURN = Math.PI;
const TURN_KEY = Math.PI / 24;
const MOVE_KEY_MM = 10;

type Hand = "turn" | "move";

/** The bath in space: turned, tipped and zoomed, or the part moved in it, by pointer and by keys. */
export function BathView({ look, bath, place, onMove }: Props) {
  const units = useUnits();
  const canvas = useRef<HTMLCanvasElement>(null);
  const held = useRef<{ readonly x: number; readonly y: number } | null>(null);
  const [view, setView] = useState<View>(FIRST_VIEW);
  const [hand, setHand] = useState<Hand>("turn");
  const [cut, setCut] = useState(0);

  useEffect(() => {
    if (canvas.current) drawBath(canvas.current, { look, bath, view, cut }, inksOf(canvas.current));
  }, [look, bath, view, cut]);

  const drag = (event: PointerEvent<HTMLCanvasElement>): void => {
    if (!held.current) return;
    const size = event.currentTarget.clientWidth;
    const [dx, dy] = [event.clientX - held.current.x, event.clientY - held.current.y];
    held.current = { x: event.clientX, y: event.clientY };
    if (hand === "turn")
      setView((before) => turned(before, (TURN * dx) / size, (TURN * dy) / size));
    else onMove(pushed(place, look, view, dx / size, -dy / size));
  };
  const key = (event: KeyboardEvent<HTMLCanvasElement>): void => {
    const step = STEPS[event.key];
    if (step) {
      const [right, up] = step;
      if (hand === "turn") setView(turned(view, right * TURN_KEY, up * TURN_KEY));
      else {
        onMove({
          alongMm: place.alongMm + right * MOVE_KEY_MM,
          acrossMm: place.acrossMm + up * MOVE_KEY_MM,
        });
      }
    } else if (event.key === "+" || event.key === "=") setView(zoomed(view, 1.2));
    else if (event.key === "-") setView(zoomed(view, 1 / 1.2));
    else if (event.key === "Home") setView(FIRST_VIEW);
    else return;
    event.preventDefault();
  };
  return (
    <figure className="plate space-y-4 p-4">
      <canvas
        ref={canvas}
        width={EDGE}
        height={EDGE}
        tabIndex={0}
        role="img"
        aria-label="The tank with the part, in the shades of the table below. Arrow keys turn the view or move the part, plus and minus zoom, Home goes back."
        className="aspect-square w-full touch-none rounded-[var(--radius-plate)] bg-sheet"
        onPointerDown={(event) => {
          event.currentTarget.setPointerCapture(event.pointerId);
          held.current = { x: event.clientX, y: event.clientY };
        }}
        onPointerMove={drag}
        onPointerUp={() => (held.current = null)}
        onPointerCancel={() => (held.current = null)}
        onKeyDown={key}
      />
      <Legend />
      <Hands hand={hand} onHand={setHand} />
      <Slider
        label="Cut away from the front"
        shown={cut === 0 ? "nothing" : `${Math.round(100 * cut)} %`}
        value={cut}
        least={0}
        most={1}
        step={0.02}
        onChange={setCut}
      />
      <figcaption className="text-sm text-zinc">
        The part hangs {formatMeasure("length", Math.abs(place.alongMm), units)} along and{" "}
        {formatMeasure("length", Math.abs(place.acrossMm), units)} across from the middle.
      </figcaption>
    </figure>
  );
}

const STEPS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

/** The part's place after a push across the picture, to the millimetre. */
function pushed(place: Place, look: FieldLook, view: View, across: number, up: number): Place {
  const { grid } = look;
  const spanM = Math.hypot(grid.nx * grid.hx, grid.ny * grid.hy, grid.nz * grid.hz) / view.zoom;
  const { along, cross } = movedOnLevel(view, across * spanM, up * spanM);
  return {
    alongMm: Math.round(place.alongMm + 1000 * along),
    acrossMm: Math.round(place.acrossMm + 1000 * cross),
  };
}

function inksOf(element: Element): Inks {
  const style = getComputedStyle(element);
  const ink = (name: string): string => style.getPropertyValue(`--color-${name}`).trim();
  return { rim: ink("rim"), liquid: ink("bath"), anode: ink("zinc") };
}

function Hands({ hand, onHand }: { readonly hand: Hand; readonly onHand: (hand: Hand) => void }) {
  return (
    <fieldset className="flex flex-wrap gap-2">
      <legend className="sr-only">What dragging does</legend>
      {(
        [
          ["turn", "Turn the view"],
          ["move", "Move the part"],
        ] as const
      ).map(([value, words]) => (
        <label
          key={value}
          className="flex min-h-12 items-center gap-2 rounded-[var(--radius-plate)] border-2 border-rim px-3 has-checked:border-bath has-checked:bg-bath-wash"
        >
          <input
            type="radio"
            name="hand"
            className="size-5 accent-bath"
            checked={hand === value}
            onChange={() => onHand(value)}
          />
          {words}
        </label>
      ))}
    </fieldset>
  );
}

function Legend() {
  return (
    <div className="space-y-1">
      <p className="text-sm font-medium">Current there, of the part’s mean</p>
      <ul className="grid grid-cols-2 gap-x-4 gap-y-1 text-sm sm:grid-cols-3">
        {SHADES.map(({ colour, words }) => (
          <li key={words} className="flex items-center gap-2">
            <span
              aria-hidden="true"
              className="size-4 shrink-0 border border-rim"
              style={{ background: colour }}
            />
            {words}
          </li>
        ))}
      </ul>
    </div>
  );
}

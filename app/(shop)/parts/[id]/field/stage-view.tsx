"use client";

import { useEffect, useId, useRef, useState } from "react";
import { type Bathful, boxOf } from "@/lib/field";
import { stepWords } from "./hour-steps";
import { MIDDLE, type PartPlace } from "./hung";
import { type Hand, Keys, PlaceLine, pushed, Tick } from "./stage-keys";
import { type Staged, useStage } from "./use-stage";
import { type HandActions, keyDown, usePointers } from "./use-stage-hand";
import { firstView, LEAST_ZOOM, MOST_ZOOM, turned, type View, zoomed } from "./view";

type Props = Omit<Staged, "view"> & {
  /** Of the anode inside from where it was found best; null where none hangs. */
  readonly aside: PartPlace | null;
  readonly onMoveAnode: (aside: PartPlace, held: boolean) => void;
  /** @param held more is to come: the hand has not let go */
  readonly onMove: (place: PartPlace, held: boolean) => void;
  readonly onLines: (on: boolean) => void;
  readonly onFailed: () => void;
};

/** rad for a drag across the whole picture, and for a key. */
const TURN = Math.PI;
const TURN_KEY = Math.PI / 24;

function firstViewOf({ vessel, parts }: Bathful): View {
  const spans = parts.flatMap(({ mesh }) => {
    const { least, most } = boxOf(mesh);
    return most.map((value, axis) => value - (least[axis] ?? 0));
  });
  const tankM = vessel.kind === "ROUND" ? vessel.topDiameterM : vessel.topLengthM;
  return firstView(tankM, Math.max(...spans));
}

/** The bath in space: turned, tipped and zoomed, or the part moved in it, by pointer, by keys and by buttons. */
export function StageView({ aside, onMove, onMoveAnode, onLines, onFailed, ...staged }: Props) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const help = useId();
  const [view, setView] = useState<View>(() => firstViewOf(staged.bath));
  const [chosenHand, setHand] = useState<Hand>("turn");
  // An anode that hangs no more is not moved either.
  const hand = chosenHand === "anode" && !aside ? "move" : chosenHand;
  /** What was read off the picture, and off which: another one has other hours there. */
  const [reading, setReading] = useState<{ readonly words: string; readonly of: object } | null>(
    null,
  );
  const stage = useStage(canvas, { ...staged, view }, onFailed);
  const grip = useRef<{ readonly at: readonly [number, number]; readonly place: PartPlace } | null>(
    null,
  );
  const { place, steps, bath } = staged;

  const moved = hand === "anode" && aside ? aside : place;
  const moveTo = hand === "anode" ? onMoveAnode : onMove;
  const arrow = (right: number, up: number): void => {
    if (hand === "turn") {
      setView((before) => turned(before, right * TURN_KEY, up * TURN_KEY));
      return;
    }
    moveTo(pushed(moved, view, right, up), false);
  };
  const actions: HandActions = {
    onTurn: (right, up) => setView((before) => turned(before, TURN * right, -TURN * up)),
    onZoom: (by) => setView((before) => zoomed(before, by)),
    onHome: () => setView(firstViewOf(bath)),
    onGrip: (x, y) => {
      const at = stage?.onLevel(x, y, bath.levelM / 2);
      grip.current = at ? { at, place: moved } : null;
    },
    onDrag: (x, y) => {
      const at = stage?.onLevel(x, y, bath.levelM / 2);
      if (at && grip.current) moveTo(dragged(grip.current, at), true);
    },
    onLetGo: () => {
      grip.current = null;
      moveTo(moved, false);
    },
    onTap: (x, y) => {
      const scale = stage?.scaleAt(x, y) ?? null;
      const step = scale === null ? null : Math.floor(scale * (steps.limits.length + 1));
      setReading(
        step === null
          ? null
          : { words: `There: ${stepWords(steps.limits, step)}.`, of: staged.picture },
      );
    },
    onArrow: arrow,
  };
  useWheel(canvas, actions.onZoom, view);
  return (
    <figure className="plate overflow-hidden">
      <canvas
        ref={canvas}
        tabIndex={0}
        role="application"
        aria-roledescription="picture in space"
        aria-label="The tank with the part, in the tones of the legend"
        aria-describedby={help}
        className={`block aspect-square w-full sm:aspect-[4/3] ${hand === "turn" ? "cursor-grab touch-pan-y" : "cursor-move touch-none"}`}
        onKeyDown={(event) => keyDown(event, actions)}
        {...usePointers(actions, hand !== "turn")}
      />
      <div className="space-y-3 border-t border-line p-3 sm:p-4">
        <div className="flex flex-wrap items-center justify-between gap-3">
          <Hands hand={hand} anode={aside !== null} onHand={setHand} />
          <Keys hand={hand} onArrow={arrow} onZoom={actions.onZoom} onHome={actions.onHome} />
        </div>
        <Tick label="Lines of the current" on={staged.lines} onChange={onLines} />
        <PlaceLine
          what={hand === "anode" ? "anode" : "part"}
          place={moved}
          reading={reading?.of === staged.picture ? reading.words : null}
          onMiddle={() => moveTo(MIDDLE, false)}
        />
        <p id={help} className="text-sm text-zinc">
          Drag to turn or to move, pinch or + and − to zoom, Home for the first view; arrow keys do
          what dragging does. Tap the part to read the hours there. The section and the table below
          say the same without the picture.
        </p>
      </div>
    </figure>
  );
}

/** Where the part is after it was dragged, to the millimetre. */
function dragged(
  grip: { readonly at: readonly [number, number]; readonly place: PartPlace },
  [along, across]: readonly [number, number],
): PartPlace {
  return {
    alongMm: Math.round(grip.place.alongMm + 1000 * (along - grip.at[0])),
    acrossMm: Math.round(grip.place.acrossMm + 1000 * (across - grip.at[1])),
  };
}

/** The wheel zooms once the picture was chosen, by a click or by Tab; before that it scrolls the page. */
function useWheel(
  canvas: { readonly current: HTMLCanvasElement | null },
  onZoom: (by: number) => void,
  { zoom }: View,
): void {
  const known = useRef({ onZoom, zoom });
  useEffect(() => {
    known.current = { onZoom, zoom };
  });
  useEffect(() => {
    const element = canvas.current;
    const turn = (event: WheelEvent): void => {
      const chosen = document.activeElement === element || event.ctrlKey;
      const atEnd =
        event.deltaY > 0 ? known.current.zoom <= LEAST_ZOOM : known.current.zoom >= MOST_ZOOM;
      if (!chosen || atEnd) return;
      event.preventDefault();
      known.current.onZoom(Math.exp(-event.deltaY / 500));
    };
    // React's own wheel handler may not keep the page from scrolling.
    element?.addEventListener("wheel", turn, { passive: false });
    return () => element?.removeEventListener("wheel", turn);
  }, [canvas]);
}

type HandsProps = {
  readonly hand: Hand;
  /** whether an anode hangs inside */
  readonly anode: boolean;
  readonly onHand: (hand: Hand) => void;
};

const HANDS = [
  ["turn", "Turn the view"],
  ["move", "Move the part"],
  ["anode", "Move the anode inside"],
] as const;

function Hands({ hand, anode, onHand }: HandsProps) {
  return (
    <fieldset className="flex flex-wrap gap-2">
      <legend className="sr-only">What dragging and arrows do</legend>
      {HANDS.filter(([value]) => anode || value !== "anode").map(([value, words]) => (
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

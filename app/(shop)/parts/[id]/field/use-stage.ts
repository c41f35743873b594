"use client";

import { type RefObject, useEffect, useRef, useState } from "react";
import type { Bathful } from "@/lib/field";
import type { CutScene } from "./cut-scene";
import { DRY_TONE, type HourSteps } from "./hour-steps";
import type { PartPlace } from "./hung";
import { type CutInks, paintCut } from "./paint-cut";
import type { Stage, StageInks } from "./stage";
import { inkOf, useNight } from "./use-inks";
import type { View } from "./view";
import type { FieldPicture } from "./worker-words";

/** What is shown in space. */
export type Staged = {
  readonly picture: FieldPicture;
  readonly bath: Bathful;
  /** Where the picture has the part, and where it is by now. */
  readonly shownPlace: PartPlace;
  readonly place: PartPlace;
  readonly steps: HourSteps;
  /** Of a density over the part's mean, h. */
  readonly hours: (ratio: number) => number;
  readonly toneOf: (ratio: number) => string;
  readonly cut: CutScene | null;
  readonly lines: boolean;
  readonly view: View;
};

const CUT_EDGE = 1000;

function stageInks(): StageInks {
  return {
    ...{ rim: inkOf("rim"), wall: inkOf("rim"), liquid: inkOf("liquid") },
    ...{ anode: inkOf("zinc"), line: inkOf("bath"), dry: DRY_TONE },
  };
}

export const cutInks = (): CutInks => ({ rim: inkOf("rim"), level: inkOf("bath") });

/** Whether the browser can draw in space at all; asked on a canvas of its own, since one can only have one kind of pen. */
function drawsInSpace(): boolean {
  return document.createElement("canvas").getContext("webgl2") !== null;
}

/**
 * The drawing in space on a canvas, as large as that.
 * @param onFailed told once when the browser draws nothing in space, or stops to
 */
function useMadeStage(
  canvas: RefObject<HTMLCanvasElement | null>,
  onFailed: () => void,
): Stage | null {
  const [stage, setStage] = useState<Stage | null>(null);
  const failed = useRef(onFailed);

  useEffect(() => {
    if (!drawsInSpace()) {
      failed.current();
      return;
    }
    let made: Stage | null = null;
    let gone = false;
    const watch = new ResizeObserver(([entry]) => {
      if (entry) made?.resize(entry.contentRect.width, entry.contentRect.height, devicePixelRatio);
    });
    // The library that draws comes on its own, while the figures already show.
    void import("./stage").then(({ Stage }) => {
      if (gone || !canvas.current) return;
      try {
        made = new Stage(canvas.current, () => failed.current());
      } catch {
        failed.current();
        return;
      }
      watch.observe(canvas.current);
      setStage(made);
    });
    return () => {
      gone = true;
      watch.disconnect();
      made?.dispose();
      setStage(null);
    };
  }, [canvas]);
  return stage;
}

/** The drawing in space, kept up with what is shown: each effect changes what it names and no more. */
export function useStage(
  canvas: RefObject<HTMLCanvasElement | null>,
  staged: Staged,
  onFailed: () => void,
): Stage | null {
  const stage = useMadeStage(canvas, onFailed);
  const night = useNight();
  const { picture, bath, steps, hours, toneOf, cut, lines, view, place, shownPlace } = staged;

  useEffect(() => {
    stage?.tank(bath, stageInks());
  }, [stage, night, bath]);
  useEffect(() => {
    stage?.surface(picture, hours, steps, stageInks());
  }, [stage, picture, hours, steps, night]);
  useEffect(() => {
    stage?.moveSurface(
      (place.alongMm - shownPlace.alongMm) / 1000,
      (place.acrossMm - shownPlace.acrossMm) / 1000,
    );
  }, [stage, place, shownPlace, picture]);
  useEffect(() => {
    stage?.lines(lines ? picture.lines : null, stageInks());
  }, [stage, lines, picture, night]);
  useEffect(() => {
    if (!stage) return;
    const painted = document.createElement("canvas");
    if (cut) paintCut(painted, cut, CUT_EDGE, toneOf, cutInks());
    stage.cut(cut, painted);
  }, [stage, cut, toneOf, night]);
  useEffect(() => {
    stage?.look(view);
  }, [stage, view]);
  return stage;
}

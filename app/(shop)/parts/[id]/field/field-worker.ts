import { lookAt, shapeLengthWithError, streamLines } from "@/lib/field";
import { fieldDrive } from "@/lib/treatment";
import { bathWith } from "./hung";
import { evenSurface } from "./surface-shape";
import type { FieldAnswer, FieldQuestion } from "./worker-words";

/** Runs beside the page, so that the page stays quick while a bath is solved. Keeps nothing from one call to the next. */

const QUICK_CELLS = 40_000;
const CELLS = 90_000;
/** The coarse one of two grids; the fine one has eight times as many. */
const TWO_GRIDS_FROM = 12_000;
const QUICK_LINES = 60;
const LINES = 100;

const answer = (message: FieldAnswer, transfer: Transferable[] = []): void => {
  self.postMessage(message, { transfer });
};

self.onmessage = ({ data }: MessageEvent<FieldQuestion>) => {
  const { number, subject, place, form, aside, quick } = data;
  const began = performance.now();
  try {
    const bath = bathWith(subject, place, form, aside);
    const look = lookAt(
      bath,
      quick ? { cells: QUICK_CELLS } : { cells: CELLS, polarised: fieldDrive(subject) },
    );
    const shape = evenSurface(look.surface);
    const lines = streamLines(look, { count: quick ? QUICK_LINES : LINES });
    const picture = { look, shape, lines, tookMs: performance.now() - began };
    answer({ kind: "look", number, picture }, [
      ...[look.cells.buffer, look.potentialV.buffer],
      ...[look.surface.corners.buffer, look.surface.ratio.buffer],
      ...[shape.normals.buffer, shape.ratio.buffer, lines.points.buffer],
    ]);
    if (!quick) {
      answer({ kind: "length", number, ...shapeLengthWithError(bath, TWO_GRIDS_FROM) });
    }
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    answer({ kind: "none", number, why: error.message });
  }
};

import { lookAt, shapeLengthWithError } from "@/lib/field";
import { fieldBath, fieldDrive, innerRod } from "@/lib/treatment";
import { type FieldAnswer, type FieldQuestion, ROD_CLEARANCE_MM } from "./worker-words";

/** Runs beside the page, so that the page stays quick while a bath is solved. */

const QUICK_CELLS = 30_000;
const CELLS = 90_000;
/** The coarse one of two grids; the fine one has eight times as many. */
const TWO_GRIDS_FROM = 12_000;

const answer = (message: FieldAnswer, transfer: Transferable[] = []): void => {
  self.postMessage(message, { transfer });
};

self.onmessage = ({ data }: MessageEvent<FieldQuestion>) => {
  const { number, subject, place, rod, quick } = data;
  try {
    const hung = rod ? (innerRod(subject, ROD_CLEARANCE_MM) ?? undefined) : undefined;
    const bath = fieldBath(subject, place, hung);
    const look = lookAt(
      bath,
      quick ? { cells: QUICK_CELLS } : { cells: CELLS, polarised: fieldDrive(subject) },
    );
    answer({ kind: "look", number, look }, [
      look.cells.buffer,
      look.potentialV.buffer,
      look.surface.corners.buffer,
      look.surface.ratio.buffer,
    ]);
    if (!quick) {
      answer({ kind: "length", number, ...shapeLengthWithError(bath, TWO_GRIDS_FROM) });
    }
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    answer({ kind: "none", number, why: error.message });
  }
};

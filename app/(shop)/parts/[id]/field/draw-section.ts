import { FIRST_ELECTRODE, INSULATOR, type Electrode, type Section } from "@/lib/field";

export type SectionInks = {
  readonly bath: readonly [number, number, number];
  readonly far: readonly [number, number, number];
  readonly part: readonly [number, number, number];
  readonly anode: readonly [number, number, number];
};

/** Bands of equal volts between part and anode: where they crowd, the current is strong. */
const BANDS = 16;

/** Paints a cut: every cell a dot, bands of the potential, metal in its own colour, walls left clear. */
export function drawSection(
  canvas: HTMLCanvasElement,
  { columns, rows, potentialV, codes }: Section,
  electrodes: readonly Electrode[],
  inks: SectionInks,
): void {
  canvas.width = columns;
  canvas.height = rows;
  const pen = canvas.getContext("2d");
  if (!pen) return;
  const picture = pen.createImageData(columns, rows);
  const bath = potentialV.filter((_, at) => codes[at] === 0);
  const least = bath.reduce((low, value) => Math.min(low, value), Infinity);
  const most = bath.reduce((high, value) => Math.max(high, value), -Infinity);
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const from = column + columns * row;
      // Rows of a cut count upwards, those of a picture down.
      const to = 4 * (column + columns * (rows - 1 - row));
      const code = codes[from] ?? INSULATOR;
      if (code === INSULATOR) continue;
      const share = ((potentialV[from] ?? 0) - least) / Math.max(1e-12, most - least);
      const ink =
        code >= FIRST_ELECTRODE
          ? electrodes[code - FIRST_ELECTRODE]?.kind === "PART"
            ? inks.part
            : inks.anode
          : banded(inks.bath, inks.far, share);
      picture.data.set([...ink, 255], to);
    }
  }
  pen.putImageData(picture, 0, 0);
}

/** Every other band a little darker, and all of them on the way from one ink to the other. */
function banded(
  from: readonly number[],
  to: readonly number[],
  share: number,
): readonly [number, number, number] {
  const band = Math.min(BANDS - 1, Math.floor(share * BANDS));
  const way = band / (BANDS - 1);
  const shade = band % 2 === 0 ? 1 : 0.9;
  const at = (channel: number): number =>
    Math.round(shade * ((from[channel] ?? 0) + way * ((to[channel] ?? 0) - (from[channel] ?? 0))));
  return [at(0), at(1), at(2)];
}

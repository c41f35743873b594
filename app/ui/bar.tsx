import type { Tone } from "./plain";

const FILL: Readonly<Record<Tone, string>> = {
  ink: "fill-magnetite",
  bath: "fill-bath",
  oxide: "fill-oxide",
  brass: "fill-brass",
  zinc: "fill-rim",
};

type BarProps = {
  /** 0 to 1 of the whole width */
  readonly share: number;
  /** a line at this share: a plan, a limit */
  readonly mark?: number | undefined;
  readonly tone?: Tone;
};

const WIDTH = 100;
const HEIGHT = 10;

/** A bar in a table's cell, beside the number it draws: decoration for the eye, so it says nothing by itself. */
export function Bar({ share, mark, tone = "bath" }: BarProps) {
  const x = (value: number): number => Math.min(1, Math.max(0, value)) * WIDTH;
  return (
    <svg
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      preserveAspectRatio="none"
      className="h-2.5 w-full min-w-16"
      aria-hidden="true"
    >
      <rect width={WIDTH} height={HEIGHT} className="fill-zinc-wash" />
      <rect width={x(share)} height={HEIGHT} className={FILL[tone]} />
      {mark === undefined ? null : (
        <rect
          x={Math.min(WIDTH - 1.5, x(mark))}
          width={1.5}
          height={HEIGHT}
          className="fill-magnetite"
        />
      )}
    </svg>
  );
}

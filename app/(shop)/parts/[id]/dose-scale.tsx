import { formatMeasure, type UnitSystem } from "@/lib/units";

type DoseScaleProps = {
  readonly least: number;
  readonly most: number;
  readonly usual: { readonly low: number; readonly high: number };
  readonly strongest: number;
  readonly units: UnitSystem;
};

const WIDTH = 200;

/** Under the dose: the trade's usual band, and the strongest that the supply carries all day. */
export function DoseScale({ least, most, usual, strongest, units }: DoseScaleProps) {
  const x = (dose: number): number => {
    const share = Math.log(dose / least) / Math.log(most / least);
    return Math.min(1, Math.max(0, share)) * WIDTH;
  };
  const told = (dose: number): string => formatMeasure("strength", dose, units);
  return (
    <div className="space-y-1 text-sm">
      <svg
        viewBox={`0 0 ${WIDTH} 8`}
        preserveAspectRatio="none"
        className="h-3 w-full"
        aria-hidden="true"
      >
        <rect x={0} y={3} width={WIDTH} height={2} className="fill-line" />
        <rect
          x={x(usual.low)}
          y={0}
          width={Math.max(1, x(usual.high) - x(usual.low))}
          height={8}
          className="fill-bath"
          opacity={0.6}
        />
        <rect
          x={Math.max(0, x(strongest) - 0.75)}
          y={0}
          width={1.5}
          height={8}
          className="fill-oxide"
        />
      </svg>
      <p>
        <span aria-hidden="true" className="mr-1 inline-block size-3 bg-bath opacity-60" />
        Usual: {told(usual.low)} to {told(usual.high)} (common practice, no source).
      </p>
      <p>
        <span aria-hidden="true" className="mr-1 inline-block h-3 w-1 bg-oxide" />
        Strongest that this supply carries all day and the part takes: {told(strongest)}. Stronger
        is not better.
      </p>
    </div>
  );
}

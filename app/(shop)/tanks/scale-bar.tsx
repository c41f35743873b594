import type { UnitSystem } from "@/lib/units";

/** The length that the bar stands for: half a metre, or two feet. */
const BAR = {
  METRIC: { mm: 500, label: "500 mm" },
  US: { mm: 609.6, label: "2 ft" },
} as const;

type Props = { readonly spanMm: number; readonly units: UnitSystem };

/** The scale that all drawings above it share: as wide as one of them, with a round length marked. */
export function ScaleBar({ spanMm, units }: Props) {
  const { mm, label } = BAR[units];
  return (
    <div className="grid grid-cols-1 gap-x-10 sm:grid-cols-2 lg:grid-cols-3">
      <svg
        viewBox={`0 0 ${spanMm} 70`}
        className="h-auto w-full"
        role="img"
        aria-label="All tanks are drawn to one scale"
      >
        <path
          className="fill-none stroke-zinc"
          strokeWidth={6}
          d={`M 4 10 V 40 M 4 25 H ${mm} M ${mm} 10 V 40`}
        />
        <text className="fill-zinc" x={mm + 24} y={47} fontSize={64}>
          {label}
        </text>
      </svg>
    </div>
  );
}

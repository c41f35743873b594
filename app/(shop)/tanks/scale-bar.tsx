/** The length that the bar stands for, mm. */
const BAR_MM = 500;

/** The scale that all drawings above it share: as wide as one of them, with half a metre marked. */
export function ScaleBar({ spanMm }: { readonly spanMm: number }) {
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
          d={`M 4 10 V 40 M 4 25 H ${BAR_MM} M ${BAR_MM} 10 V 40`}
        />
        <text className="fill-zinc" x={BAR_MM + 24} y={47} fontSize={64}>
          {BAR_MM} mm
        </text>
      </svg>
    </div>
  );
}

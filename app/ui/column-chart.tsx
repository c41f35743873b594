/** One column of a chart. */
export type ChartColumn = {
  readonly label: string;
  readonly value: number;
  /** the value in words, for the table beside it and for the tip */
  readonly text: string;
  /** hatched rather than filled: not settled yet, a forecast */
  readonly expected?: boolean;
};

type ColumnChartProps = {
  /** what is drawn, with its unit: "Iron lost a week, g" */
  readonly title: string;
  readonly columns: readonly ChartColumn[];
  /** a line across, with its words */
  readonly limit?: { readonly value: number; readonly label: string } | undefined;
  /** heading of the labels in the table: "Week of" */
  readonly labelHead: string;
};

const COLUMN = 52;
const LEFT = 12;
const PLOT = 150;
const TOP = 30;
const BOTTOM = 30;

/** Columns over time, drawn on the server, with a table that says the same. */
export function ColumnChart({ title, columns, limit, labelHead }: ColumnChartProps) {
  const most = Math.max(...columns.map(({ value }) => value), limit?.value ?? 0, Number.MIN_VALUE);
  const width = LEFT * 2 + columns.length * COLUMN;
  const y = (value: number): number => TOP + PLOT * (1 - value / most);
  return (
    <figure className="plate p-4">
      <figcaption className="mb-2 font-medium">{title}</figcaption>
      <div className="overflow-x-auto" tabIndex={0} role="region" aria-label={`${title}, drawn`}>
        <svg
          viewBox={`0 0 ${width} ${TOP + PLOT + BOTTOM}`}
          style={{ minWidth: `${Math.min(width, 900)}px`, maxWidth: `${width * 1.4}px` }}
          className="h-auto w-full"
          role="img"
          aria-label={`${title}. The table below says the same.`}
        >
          <defs>
            <pattern
              id="expected"
              width="6"
              height="6"
              patternUnits="userSpaceOnUse"
              patternTransform="rotate(45)"
            >
              <rect width="6" height="6" className="fill-bath-wash" />
              <rect width="2.5" height="6" className="fill-bath" />
            </pattern>
          </defs>
          {columns.map((column, index) => (
            <Column
              key={column.label}
              column={column}
              x={LEFT + index * COLUMN}
              top={y(column.value)}
            />
          ))}
          <line x1={0} x2={width} y1={TOP + PLOT} y2={TOP + PLOT} className="stroke-magnetite" />
          {limit ? <Limit {...limit} y={y(limit.value)} width={width} /> : null}
        </svg>
      </div>
      <details className="mt-2">
        <summary className="flex min-h-11 items-center text-sm text-bath underline underline-offset-3">
          As a table
        </summary>
        <table className="w-full max-w-sm text-left">
          <caption className="sr-only">{title}</caption>
          <thead className="text-sm text-zinc">
            <tr>
              <th scope="col" className="py-1 font-medium">
                {labelHead}
              </th>
              <th scope="col" className="py-1 text-right font-medium">
                Amount
              </th>
            </tr>
          </thead>
          <tbody className="divide-y divide-line">
            {columns.map(({ label, text, expected }) => (
              <tr key={label}>
                <td className="py-1">{label}</td>
                <td className="py-1 text-right">
                  {text}
                  {expected ? " (expected)" : ""}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
    </figure>
  );
}

function Column({
  column,
  x,
  top,
}: {
  readonly column: ChartColumn;
  readonly x: number;
  readonly top: number;
}) {
  const middle = x + COLUMN / 2;
  return (
    <g>
      <title>{`${column.label}: ${column.text}`}</title>
      <rect
        x={x + 7}
        y={top}
        width={COLUMN - 14}
        height={TOP + PLOT - top}
        className={column.expected ? "stroke-bath" : "fill-bath"}
        {...(column.expected && { fill: "url(#expected)" })}
      />
      <text x={middle} y={top - 5} textAnchor="middle" fontSize={12} className="fill-magnetite">
        {column.text}
      </text>
      <text x={middle} y={TOP + PLOT + 18} textAnchor="middle" fontSize={12} className="fill-zinc">
        {column.label}
      </text>
    </g>
  );
}

function Limit({
  label,
  y,
  width,
}: {
  readonly label: string;
  readonly y: number;
  readonly width: number;
}) {
  return (
    <g>
      <line
        x1={0}
        x2={width}
        y1={y}
        y2={y}
        className="stroke-oxide"
        strokeDasharray="6 4"
        strokeWidth={1.5}
      />
      <text x={2} y={y - 5} fontSize={12} className="fill-oxide">
        {label}
      </text>
    </g>
  );
}

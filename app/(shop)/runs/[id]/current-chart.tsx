import type { RunView } from "@/lib/services";

const WIDTH = 480;
const HEIGHT = 220;
const LEFT = 52;
const BOTTOM = 34;
const TOP = 12;
const HOUR_MS = 3_600_000;

type ChartProps = {
  readonly run: RunView["run"];
  readonly readings: RunView["readings"];
  /** right end of the line of time: now, or the pulling */
  readonly untilMs: number;
};

/** Measured current over the hours, on the band that the plan expects. Its numbers stand in the table below it. */
export function CurrentChart({ run, readings, untilMs }: ChartProps) {
  const fromMs = (run.loadedAt ?? run.startsAt).getTime();
  const hours = Math.max(0.5, (Math.max(untilMs, run.endsAt.getTime()) - fromMs) / HOUR_MS);
  const most = niceAbove(
    Math.max(0.5, run.currentHighA, ...readings.map(({ currentA }) => currentA)) * 1.1,
  );
  const x = (ms: number): number => LEFT + ((WIDTH - LEFT - 8) * (ms - fromMs)) / HOUR_MS / hours;
  const y = (amps: number): number =>
    HEIGHT - BOTTOM - ((HEIGHT - BOTTOM - TOP) * Math.max(0, amps)) / most;
  const line = readings.map(({ at, currentA }) => `${x(at.getTime())},${y(currentA)}`).join(" ");
  const band = { low: run.currentLowA.toFixed(1), high: run.currentHighA.toFixed(1) };
  return (
    <figure>
      <svg
        viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
        className="h-auto w-full"
        role="img"
        aria-label={`Current over ${hours.toFixed(0)} hours: ${readings.length} readings, ${band.low} to ${band.high} A expected`}
      >
        <rect
          className="fill-bath-wash"
          x={LEFT}
          width={WIDTH - LEFT - 8}
          y={y(run.currentHighA)}
          height={y(run.currentLowA) - y(run.currentHighA)}
        />
        <line
          className="stroke-bath"
          strokeDasharray="6 5"
          x1={LEFT}
          x2={WIDTH - 8}
          y1={y(run.expectedCurrentA)}
          y2={y(run.expectedCurrentA)}
        />
        <Axes most={most} hours={hours} x={(hour) => x(fromMs + hour * HOUR_MS)} y={y} />
        {readings.length > 1 ? (
          <polyline className="fill-none stroke-magnetite" strokeWidth={2.5} points={line} />
        ) : null}
        {readings.map(({ id, at, currentA }) => (
          <circle
            key={id}
            className="fill-magnetite"
            r={4.5}
            cx={x(at.getTime())}
            cy={y(currentA)}
          />
        ))}
      </svg>
      <figcaption className="text-sm text-zinc">
        {readings.length === 0 ? "No readings yet. " : "Dots: what the meter showed. "}
        Band: {band.low} to {band.high} A expected, dashed the middle.
      </figcaption>
    </figure>
  );
}

type AxesProps = {
  readonly most: number;
  readonly hours: number;
  readonly x: (hour: number) => number;
  readonly y: (amps: number) => number;
};

function Axes({ most, hours, x, y }: AxesProps) {
  const hourStep = niceAbove(hours / 5);
  const ticks = Array.from({ length: Math.floor(hours / hourStep) + 1 }, (_, i) => i * hourStep);
  return (
    <g className="fill-zinc" fontSize={16}>
      <path
        className="fill-none stroke-zinc"
        d={`M ${LEFT} ${TOP} V ${HEIGHT - BOTTOM} H ${WIDTH - 8}`}
      />
      {[0, most / 2, most].map((amps) => (
        <text key={amps} x={LEFT - 6} y={y(amps) + 5} textAnchor="end">
          {Number(amps.toFixed(2))}
          {amps === most ? " A" : ""}
        </text>
      ))}
      {ticks.map((hour) => (
        <text key={hour} x={x(hour)} y={HEIGHT - 10} textAnchor="middle">
          {Number(hour.toFixed(2))} h
        </text>
      ))}
    </g>
  );
}

/** The least of 1, 2, 5, 10 … that is not below a value. @example niceAbove(3.2) // 5 */
function niceAbove(value: number): number {
  const power = 10 ** Math.floor(Math.log10(value));
  const step = [1, 2, 5, 10].find((factor) => factor * power >= value) ?? 10;
  return step * power;
}

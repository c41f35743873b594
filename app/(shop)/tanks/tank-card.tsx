import Link from "next/link";
import { formatDuration, formatTime, formatWhen } from "@/lib/server";
import type { TankView } from "@/lib/services";
import { formatMeasure } from "@/lib/units";
import { Badge, formatNumber, TankDrawing } from "@/app/ui";
import { lengthWords, type UnitSystem, volumeWords } from "../measures";
import { loadWords } from "../words";

type Place = {
  readonly timeZone: string;
  readonly locale: string;
  readonly unitSystem: UnitSystem;
};
type CardProps = {
  readonly view: TankView;
  readonly spanMm: number;
  readonly now: Date;
  readonly place: Place;
};

/** One tank on the board: its drawing stands on the floor line with the others, what is said of it hangs below. */
export function TankCard({ view, spanMm, now, place }: CardProps) {
  const { tank, running, next, lacks } = view;
  return (
    <li className="row-span-2 grid min-w-0 grid-rows-subgrid gap-y-0">
      <Link
        href={`/tanks/${tank.id}`}
        className="flex items-end border-b-4 border-magnetite"
        aria-label={`${tank.name}: open`}
      >
        <TankPicture view={view} spanMm={spanMm} />
      </Link>
      <div className="space-y-2 pt-3 pb-6">
        <div className="flex flex-wrap items-center justify-between gap-2">
          <h2 className="text-xl font-semibold">
            <Link href={`/tanks/${tank.id}`} className="hover:underline">
              {tank.name}
            </Link>
          </h2>
          <TankBadge view={view} />
        </div>
        <p className="text-zinc">{contentsWords(view, place.unitSystem)}</p>
        {running ? <RunningWords running={running} now={now} place={place} /> : null}
        {!running && lacks.length > 0 ? <p>Needs work: {lacks.join(", ")}.</p> : null}
        {view.pulled.map((run) => (
          <p key={run.id}>
            <Link className="link" href={`/runs/${run.id}`}>
              Finish {loadWords(run)}
            </Link>
          </p>
        ))}
        <WornAnodes view={view} />
        {next ? (
          <p>
            Next:{" "}
            <Link className="link" href={`/runs/${next.id}`}>
              {loadWords(next)}
            </Link>
            , {formatWhen(next.startsAt, place)}
          </p>
        ) : (
          <p className="text-zinc">{running ? "Nothing booked after it." : "Nothing booked."}</p>
        )}
      </div>
    </li>
  );
}

/** The drawing, to the scale of its row. */
export function TankPicture({
  view,
  spanMm,
  className,
}: Pick<CardProps, "view"> & {
  readonly spanMm?: number | undefined;
  readonly className?: string;
}) {
  return (
    <TankDrawing
      name={view.tank.name}
      shape={view.shape}
      levelMm={view.levelMm}
      state={view.state}
      anode={view.anodes.length > 0}
      part={view.load ?? undefined}
      spanMm={spanMm}
      {...(className ? { className } : {})}
    />
  );
}

/** The widest vessel of a row with room for rim and leads: what every drawing of the row is as wide as. */
export function commonSpan(views: readonly TankView[]): number {
  return Math.max(
    0,
    ...views.map(({ tank }) => Math.max(tank.topLengthMm, tank.bottomLengthMm) + 180),
  );
}

/** What a tank is at, in a word. */
export function TankBadge({ view: { running, lacks } }: Pick<CardProps, "view">) {
  if (running?.progress.findings.some(({ severity }) => severity === "look now")) {
    return <Badge tone="oxide">look now</Badge>;
  }
  if (running?.progress.due) return <Badge tone="brass">pull now</Badge>;
  if (running) return <Badge tone="bath">running</Badge>;
  if (lacks.length > 0) return <Badge tone="oxide">not ready</Badge>;
  return <Badge tone="zinc">free</Badge>;
}

/** @example "62 L at 300 mm, 3.1 g/L of soda" */
export function contentsWords({ tank, levelMm }: TankView, system: UnitSystem): string {
  if (!tank.bath) return "Drained.";
  const { volumeL, carbonateG, bicarbonateG } = tank.bath;
  const perLitre = (carbonateG + bicarbonateG) / volumeL;
  return `${volumeWords(volumeL, system)} at ${lengthWords(levelMm, system)}, ${formatMeasure("strength", perLitre, system, { decimals: system === "US" ? 2 : 1 })} of soda`;
}

function RunningWords({
  running,
  now,
  place,
}: Pick<CardProps, "now" | "place"> & {
  readonly running: NonNullable<TankView["running"]>;
}) {
  const { run, progress } = running;
  const finding = progress.findings[0];
  return (
    <div className="space-y-1">
      <p>
        <Link className="link font-semibold" href={`/runs/${run.id}`}>
          {pullWords(running, now, place)}
        </Link>
      </p>
      <ChargeBar share={progress.share} charge={progress.charge.value} target={progress.targetAh} />
      {finding ? (
        <p className="font-medium text-oxide">
          <span aria-hidden="true">▲ </span>
          {finding.title}
        </p>
      ) : null}
    </div>
  );
}

/** @example "Pull the hinges at 14:10, in 2 h 5 min" */
export function pullWords(
  { run, progress }: NonNullable<TankView["running"]>,
  now: Date,
  place: Pick<Place, "timeZone" | "locale">,
): string {
  const what = loadWords(run);
  if (progress.due) return `Pull ${what} now`;
  if (!progress.pullAt) return `No current flows through ${what}`;
  const left = progress.pullAt.getTime() - now.getTime();
  const soon = left < 20 * 3_600_000;
  const at = soon ? formatTime(progress.pullAt, place) : formatWhen(progress.pullAt, place);
  return `Pull ${what} ${soon ? "at " : ""}${at}, in ${formatDuration(left)}`;
}

/** Charge passed of charge wanted: a bar, and always the numbers. */
export function ChargeBar({
  share,
  charge,
  target,
}: {
  readonly share: number;
  readonly charge: number;
  readonly target: number;
}) {
  return (
    <div className="flex items-center gap-2 text-sm">
      <span aria-hidden="true" className="h-2 flex-1 border border-bath">
        <span
          className="block h-full bg-bath"
          style={{ width: `${Math.min(100, 100 * share)}%` }}
        />
      </span>
      <span className="whitespace-nowrap">
        {formatNumber(charge)} of {formatNumber(target)} A·h
      </span>
    </div>
  );
}

function WornAnodes({ view }: Pick<CardProps, "view">) {
  const worn = view.anodes.filter(({ state }) => state !== "sound");
  if (worn.length === 0) return null;
  return (
    <p className="font-medium text-brass">
      <span aria-hidden="true">◆ </span>
      {worn
        .map(({ anode, state, gone }) =>
          state === "replace"
            ? `Replace anode “${anode.name}”: ${gone.value.toFixed(0)} % gone`
            : `Anode “${anode.name}” is ${gone.value.toFixed(0)} % gone`,
        )
        .join(". ")}
    </p>
  );
}

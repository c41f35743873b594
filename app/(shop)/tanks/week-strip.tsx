import Link from "next/link";
import { formatWhen } from "@/lib/server";
import type { Strip, TankView } from "@/lib/services";
import { loadWords } from "../words";

type Place = { readonly timeZone: string; readonly locale: string };
type Booking = TankView["bookings"][number];

type WeekStripProps = {
  readonly strip: Strip;
  readonly rows: readonly Pick<TankView, "tank" | "bookings">[];
  readonly now: Date;
  readonly place: Place;
};

/** What holds each tank in the days ahead, along a line of time; the shaded hours are those with nobody there. */
export function WeekStrip({ strip, rows, now, place }: WeekStripProps) {
  const share = (ms: number): number =>
    (100 * (Math.min(strip.untilMs, Math.max(strip.fromMs, ms)) - strip.fromMs)) /
    (strip.untilMs - strip.fromMs);
  return (
    <div
      className="plate overflow-x-auto"
      role="region"
      aria-label="Bookings of the next seven days"
      tabIndex={0}
    >
      <div className="min-w-3xl p-3">
        <div className="grid grid-cols-[7rem_1fr] gap-x-2">
          <span aria-hidden="true" />
          <div className="relative h-6 text-sm text-zinc">
            {strip.days.map(({ day, fromMs }) => (
              <span
                key={fromMs}
                className="absolute top-0 pl-1"
                style={{ left: `${share(fromMs)}%` }}
              >
                {dayWords(day, place)}
              </span>
            ))}
          </div>
          {rows.map(({ tank, bookings }) => (
            <StripRow
              key={tank.id}
              tank={tank}
              bookings={bookings}
              {...{ strip, share, now, place }}
            />
          ))}
        </div>
      </div>
    </div>
  );
}

type StripRowProps = Pick<TankView, "tank" | "bookings"> & {
  readonly strip: Strip;
  readonly share: (ms: number) => number;
  readonly now: Date;
  readonly place: Place;
};

function StripRow({ tank, bookings, strip, share, now, place }: StripRowProps) {
  return (
    <>
      <Link href={`/tanks/${tank.id}`} className="link self-center truncate py-1">
        {tank.name}
      </Link>
      <div className="relative my-1 h-11 overflow-hidden bg-zinc-wash">
        {strip.openings.map(({ fromMs, untilMs }) => (
          <span
            key={fromMs}
            aria-hidden="true"
            className="absolute inset-y-0 bg-sheet"
            style={{ left: `${share(fromMs)}%`, width: `${share(untilMs) - share(fromMs)}%` }}
          />
        ))}
        {strip.days.map(({ fromMs }) => (
          <span
            key={fromMs}
            aria-hidden="true"
            className="absolute inset-y-0 w-px bg-line"
            style={{ left: `${share(fromMs)}%` }}
          />
        ))}
        {bookings.filter(isHeld).map((run) => (
          <BookedBar key={run.id} run={run} {...{ share, now, place }} />
        ))}
        <span
          aria-hidden="true"
          className="absolute inset-y-0 z-10 w-0.5 bg-brass"
          style={{ left: `${share(now.getTime())}%` }}
        />
      </div>
    </>
  );
}

/** A load that was pulled holds its tank no more, but shows where the day went. */
const isHeld = ({ state }: Booking): boolean => state !== "CANCELLED";

const BAR: Readonly<Record<string, string>> = {
  RUNNING: "border-bath bg-bath-wash text-bath",
  PLANNED: "border-magnetite border-dashed bg-sheet text-magnetite",
  PULLED: "border-line bg-zinc-wash text-zinc",
  FINISHED: "border-line bg-zinc-wash text-zinc",
};

function BookedBar({
  run,
  share,
  now,
  place,
}: Pick<StripRowProps, "share" | "now" | "place"> & { readonly run: Booking }) {
  const untilMs =
    run.state === "RUNNING" ? Math.max(run.endsAt.getTime(), now.getTime()) : run.endsAt.getTime();
  const left = share(run.startsAt.getTime());
  const width = share(untilMs) - left;
  if (width <= 0) return null;
  const when = `${formatWhen(run.startsAt, place)} to ${formatWhen(run.endsAt, place)}`;
  return (
    <Link
      href={`/runs/${run.id}`}
      aria-label={`Run ${run.number}, ${loadWords(run)}: ${when}`}
      title={when}
      className={`absolute inset-y-1 flex items-center overflow-hidden border-2 px-1 text-sm font-semibold whitespace-nowrap ${BAR[run.state] ?? ""}`}
      style={{ left: `${left}%`, width: `max(${width}%, 1.5rem)` }}
    >
      {run.number}
      {width > 8 ? (
        <span className="ml-1 truncate font-normal">{run.dips[0]?.part.description}</span>
      ) : null}
    </Link>
  );
}

/** @example dayWords(day, place) // "Mon 7" */
function dayWords(day: Date, place: Place): string {
  const parts = (options: Intl.DateTimeFormatOptions): string =>
    new Intl.DateTimeFormat(place.locale, { timeZone: "UTC", ...options }).format(day);
  return `${parts({ weekday: "short" })} ${parts({ day: "numeric" })}`;
}

import clsx from "clsx";
import Link from "next/link";
import { addressOf, type BoardSpan, earlier, later, VIEWS } from "./span";

type SpanBarProps = {
  readonly span: BoardSpan;
  readonly today: string;
  readonly asList: boolean;
  readonly part: string | undefined;
};

const PLATE =
  "inline-flex min-h-12 items-center justify-center border-2 px-3 font-semibold whitespace-nowrap";
const OFF = "border-rim bg-sheet hover:bg-zinc-wash";
const ON = "border-magnetite bg-magnetite text-sheet";

/** Which days the board shows, and how: all of it in the address, so that it can be sent, kept and gone back to. */
export function SpanBar({ span, today, asList, part }: SpanBarProps) {
  const as = asList ? "list" : undefined;
  const to = (other: BoardSpan): string => addressOf(other, { part, as });
  return (
    <nav aria-label="Days shown" className="flex flex-wrap items-center gap-x-3 gap-y-2">
      <div className="flex">
        {VIEWS.map((view) => (
          <Link
            key={view}
            href={to({ ...span, view })}
            aria-current={view === span.view ? "true" : undefined}
            className={clsx(PLATE, "-ml-0.5 first:ml-0", view === span.view ? ON : OFF)}
          >
            {view}
          </Link>
        ))}
      </div>
      <div className="flex">
        <Link href={to(earlier(span))} className={clsx(PLATE, OFF)} aria-label="Earlier">
          ←
        </Link>
        <Link href={to({ ...span, from: today })} className={clsx(PLATE, OFF, "-ml-0.5")}>
          today
        </Link>
        <Link href={to(later(span))} className={clsx(PLATE, OFF, "-ml-0.5")} aria-label="Later">
          →
        </Link>
      </div>
      <form method="get" action="/board" className="flex">
        <input type="hidden" name="view" value={span.view} />
        {as ? <input type="hidden" name="as" value={as} /> : null}
        {part ? <input type="hidden" name="part" value={part} /> : null}
        <input
          key={span.from}
          type="date"
          name="from"
          aria-label="From this day"
          defaultValue={span.from}
          className="min-h-12 border-2 border-rim bg-sheet px-2"
        />
        <button type="submit" className={clsx(PLATE, OFF, "-ml-0.5")}>
          go
        </button>
      </form>
      <Link
        href={addressOf(span, { part, as: asList ? undefined : "list" })}
        className={clsx(PLATE, OFF)}
      >
        {asList ? "as a board" : "as a list"}
      </Link>
    </nav>
  );
}

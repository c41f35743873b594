import Link from "next/link";
import { Badge, Empty, Section, Table, TextLink } from "@/app/ui";
import type { BoardDay, TimeBoard } from "@/lib/services";
import { LiveMark } from "../live/live-mark";
import { type Clock, clockOf, lengthWords, type Place } from "./clock";
import { type Item, laneItems } from "./on-board";
import { capital, daysLate, dueOf, HOLD_WORD, lateWords, loadName, standingOf } from "./words";

type ListViewProps = { readonly board: TimeBoard; readonly now: Date; readonly place: Place };

type Row = { readonly tankId: string; readonly tank: string; readonly item: Item };

/** The same bookings as a list by day and tank: for who does not see the drawing, and for paper. */
export function ListView({ board, now, place }: ListViewProps) {
  const clock = clockOf(place);
  const nowMs = now.getTime();
  const rows = laneItems(board, nowMs).flatMap(({ lane, shelf }) =>
    shelf.items.map((item) => ({ tankId: lane.tankId, tank: lane.name, item })),
  );
  const days = board.days
    .map((day, index) => ({ day, rows: rowsOf(day, index === 0, rows) }))
    .filter((one) => one.rows.length > 0);
  return (
    <>
      <LiveMark asOf={clock.time(nowMs)} />
      {days.length === 0 ? <Empty>Nothing is booked in these days.</Empty> : null}
      {days.map(({ day, rows: ofDay }) => (
        <Section key={day.day} title={dayTitle(day, clock)} id={`day-${day.day}`}>
          <DayTable day={clock.day(day.fromMs)} rows={ofDay} clock={clock} nowMs={nowMs} />
        </Section>
      ))}
    </>
  );
}

/** What begins on a day; on the first also what began before it. */
const rowsOf = (day: BoardDay, first: boolean, rows: readonly Row[]): readonly Row[] =>
  rows
    .filter(
      ({ item }) =>
        item.fromMs < day.untilMs &&
        (item.fromMs >= day.fromMs || (first && item.untilMs > day.fromMs)),
    )
    .sort((a, b) => a.item.fromMs - b.item.fromMs);

const dayTitle = (day: BoardDay, clock: Clock): string => {
  const shut = day.closed === null ? "" : `, shut${day.closed ? `: ${day.closed}` : ""}`;
  return `${clock.day(day.fromMs)}${shut}`;
};

function DayTable({
  day,
  rows,
  clock,
  nowMs,
}: {
  readonly day: string;
  readonly rows: readonly Row[];
  readonly clock: Clock;
  readonly nowMs: number;
}) {
  return (
    <Table
      caption={`Bookings of ${day}`}
      rows={rows}
      rowKey={({ item }) => item.id}
      columns={[
        { head: "From", cell: ({ item }) => clock.when(item.fromMs) },
        {
          head: "Tank",
          cell: ({ tankId, tank }) => <TextLink href={`/tanks/${tankId}`}>{tank}</TextLink>,
        },
        { head: "What", cell: ({ item }) => <What item={item} clock={clock} /> },
        { head: "Out", cell: ({ item }) => clock.when(endOf(item)) },
        { head: "State", cell: ({ item }) => <State item={item} clock={clock} nowMs={nowMs} /> },
        {
          head: "Who takes it",
          wideOnly: true,
          cell: ({ item }) => (item.kind === "run" ? (item.run.assignedTo?.name ?? "") : ""),
        },
      ]}
    />
  );
}

const endOf = (item: Item): number =>
  item.kind === "run" ? item.stretches.endsAtMs : item.untilMs;

function What({ item, clock }: { readonly item: Item; readonly clock: Clock }) {
  if (item.kind === "hold") {
    const { kind, note } = item.hold;
    return `${capital(HOLD_WORD[kind])}${note ? `: ${note}` : ""}`;
  }
  const { run, stretches } = item;
  const waitMs = stretches.pullAtMs - stretches.treatedAtMs;
  return (
    <>
      <Link className="link font-semibold" href={`/runs/${run.id}`}>
        Run {run.number}
      </Link>
      , {loadName(run.parts)}
      <span className="block text-sm text-zinc">
        {lengthWords(run.treatHours * 3_600_000)} under current
        {waitMs > 60_000 && run.state === "PLANNED"
          ? `, done ${clock.when(stretches.treatedAtMs)}, waits ${lengthWords(waitMs)} for the pull`
          : ""}
      </span>
    </>
  );
}

function State({
  item,
  clock,
  nowMs,
}: {
  readonly item: Item;
  readonly clock: Clock;
  readonly nowMs: number;
}) {
  if (item.kind === "hold") return item.hold.done ? "done" : "booked";
  const { run, stretches } = item;
  const late = lateWords(daysLate(stretches.benchUntilMs, dueOf(run.parts), clock.timeZone));
  return (
    <>
      {standingOf(run, nowMs).words}
      {run.fixed ? ", fixed" : ""}
      {late ? (
        <span className="block">
          <Badge tone="oxide">{late}</Badge>
        </span>
      ) : null}
    </>
  );
}

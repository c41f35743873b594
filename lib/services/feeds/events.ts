/** Rows of the board as events of a calendar. Job numbers, marks and descriptions only: no customer, no money. */
import type { FeedHoldRow, FeedJobRow, FeedRunRow } from "@/lib/data";
import type { CalendarEvent } from "@/lib/documents";
import { whenText } from "../calendar";

const MINUTE_MS = 60_000;
/** Descriptions named in a title. */
const NAMED = 3;

/** What the words and links of an event depend on. */
export type EventPlace = {
  readonly timeZone: string;
  readonly locale: string;
  /** the address that people open, without a slash at its end */
  readonly publicUrl: string;
  /** minutes of hands at either end of a run */
  readonly loadMinutes: number;
  readonly pullMinutes: number;
};

type Part = FeedRunRow["dips"][number]["part"];

/** A run from loading to the end of pulling. */
export function runEvent(run: FeedRunRow, place: EventPlace): CalendarEvent {
  const title = `Run ${run.number} in ${run.tank.name}${namedParts(run)}`;
  return {
    ...commonOfRun(run, place),
    uid: `run-${run.id}@ironbath`,
    time: { kind: "span", startsAt: run.startsAt, endsAt: run.endsAt },
    summary: titleOf(title, run.state),
    categories: ["Run"],
    // It holds the tank for hours, and nobody's time between loading and pulling.
    busy: false,
  };
}

/** The loading and the pulling of a run, for whoever does them. */
export function handsEvents(run: FeedRunRow, place: EventPlace): CalendarEvent[] {
  const [from, until] = [run.startsAt.getTime(), run.endsAt.getTime()];
  const common = { ...commonOfRun(run, place), busy: run.state !== "CANCELLED" };
  const loaded = Math.min(until, from + atLeastAMinute(place.loadMinutes));
  const pulling = Math.max(from, until - atLeastAMinute(place.pullMinutes));
  return [
    {
      ...common,
      uid: `load-${run.id}@ironbath`,
      time: { kind: "span", startsAt: run.startsAt, endsAt: new Date(loaded) },
      summary: titleOf(`Load run ${run.number} into ${run.tank.name}${namedParts(run)}`, run.state),
      categories: ["Load"],
    },
    {
      ...common,
      uid: `pull-${run.id}@ironbath`,
      time: { kind: "span", startsAt: new Date(pulling), endsAt: run.endsAt },
      summary: titleOf(`Pull run ${run.number} from ${run.tank.name}${namedParts(run)}`, run.state),
      categories: ["Pull"],
    },
  ];
}

/** An event must last; a rate card may say that loading takes no time. */
const atLeastAMinute = (minutes: number): number => Math.max(1, minutes) * MINUTE_MS;

function commonOfRun(
  run: FeedRunRow,
  place: EventPlace,
): Pick<CalendarEvent, "sequence" | "changedAt" | "description" | "location" | "status" | "url"> {
  const url = addressOf(`/runs/${run.id}`, place);
  return {
    sequence: run.sequence,
    changedAt: run.changedAt,
    description: [
      RUN_WORDS[run.state],
      `Load at ${whenText(run.startsAt, place)}`,
      `Pull by ${whenText(run.endsAt, place)}`,
      `Expected current ${amps(run.expectedCurrentA)} (${amps(run.currentLowA)} to ${amps(run.currentHighA)})`,
      ...run.dips.map(({ part }) => `Job ${part.job.number}, part ${partWords(part)}`),
      url,
    ]
      .filter((line) => line !== "")
      .join("\n"),
    location: whereIs(run.tank),
    status: run.state === "CANCELLED" ? "CANCELLED" : "CONFIRMED",
    url,
  };
}

const RUN_WORDS: Readonly<Record<FeedRunRow["state"], string>> = {
  PLANNED: "",
  RUNNING: "In the bath now.",
  PULLED: "Pulled, to finish.",
  FINISHED: "Finished.",
  CANCELLED: "Cancelled.",
};

/** Other work on a tank. */
export function holdEvent(hold: FeedHoldRow, place: EventPlace): CalendarEvent {
  const url = addressOf(`/tanks/${hold.tankId}`, place);
  return {
    uid: `hold-${hold.id}@ironbath`,
    sequence: hold.sequence,
    changedAt: hold.changedAt,
    time: { kind: "span", startsAt: hold.startsAt, endsAt: hold.endsAt },
    summary: titleOf(`${HOLD_WORDS[hold.kind]}: ${hold.tank.name}`, hold.state),
    description: [
      hold.state === "DONE" ? "Done." : "",
      "The tank takes no load in this time.",
      hold.note,
      url,
    ]
      .filter((line) => line !== "")
      .join("\n"),
    location: whereIs(hold.tank),
    status: hold.state === "CANCELLED" ? "CANCELLED" : "CONFIRMED",
    categories: ["Tank work"],
    url,
    busy: false,
  };
}

const HOLD_WORDS: Readonly<Record<FeedHoldRow["kind"], string>> = {
  BATH_CHANGE: "Change the bath",
  ANODE_CHANGE: "Change the anode",
  MAINTENANCE: "Out of order",
};

/** The day for which an open job is promised. */
export function promiseEvent(job: FeedJobRow, place: EventPlace): CalendarEvent {
  const url = addressOf(`/jobs/${job.id}`, place);
  return {
    uid: `job-${job.id}@ironbath`,
    sequence: job.sequence,
    changedAt: job.changedAt,
    time: { kind: "day", day: job.promisedFor },
    summary: `Job ${job.number} promised${named(job.parts)}`,
    description: [...job.parts.map((part) => `Part ${partWords(part)}`), url].join("\n"),
    location: "",
    status: "CONFIRMED",
    categories: ["Promised day"],
    url,
    busy: false,
  };
}

/** Programs that know no status still show that it is off. */
const titleOf = (title: string, state: FeedRunRow["state"] | FeedHoldRow["state"]): string =>
  state === "CANCELLED" ? `Cancelled: ${title}` : title;

const namedParts = (run: FeedRunRow): string => named(run.dips.map(({ part }) => part));

/** @example named([{ description: "hinge" }, { description: "gate" }]) // ": hinge, gate" */
function named(parts: readonly Pick<Part, "description">[]): string {
  if (parts.length === 0) return "";
  const first = parts.slice(0, NAMED).map(({ description }) => description);
  const more = parts.length - first.length;
  return `: ${first.join(", ")}${more > 0 ? ` and ${more} more` : ""}`;
}

const partWords = ({ mark, description, quantity }: Omit<Part, "job">): string =>
  `${mark}: ${description}${quantity > 1 ? `, ${quantity} pieces` : ""}`;

const whereIs = ({ name, place }: FeedRunRow["tank"]): string =>
  place === "" ? name : `${name}, ${place}`;

const amps = (current: number): string => `${current.toFixed(1)} A`;

/** As a URL writes it, so that a name of the server in other letters than ASCII can stand in a calendar. */
export const addressOf = (path: string, { publicUrl }: Pick<EventPlace, "publicUrl">): string =>
  new URL(`${publicUrl}${path}`).href;

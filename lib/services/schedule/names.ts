import { dateText } from "../calendar";
import type { ShopBoard } from "./board-rows";

/** What the ids of a board's answers stand for, for words about them; plain objects, by id. */
export type BoardNames = {
  readonly tanks: Readonly<Record<string, string>>;
  readonly supplies: Readonly<Record<string, string>>;
  /** runs and other work on tanks */
  readonly loads: Readonly<Record<string, LoadName>>;
  readonly jobs: Readonly<Record<string, JobName>>;
};

export type LoadName = {
  /** null for other work on a tank */
  readonly number: number | null;
  /** what is in it, or what the work is */
  readonly what: string;
};

export type JobName = {
  readonly number: number;
  /** the promised day, YYYY-MM-DD */
  readonly promisedFor: string | null;
};

const WORK = {
  BATH_CHANGE: "bath change",
  ANODE_CHANGE: "anode replacement",
  MAINTENANCE: "maintenance",
} as const;

export function boardNames(shop: ShopBoard): BoardNames {
  const { tanks, runs, holds, waiting } = shop;
  const jobs = [
    ...runs.flatMap(({ dips }) => dips.map(({ part }) => part.job)),
    ...waiting.map(({ job }) => job),
  ];
  return {
    tanks: Object.fromEntries(tanks.map(({ id, name }) => [id, name])),
    supplies: Object.fromEntries(
      tanks.flatMap(({ supply }) => (supply ? [[supply.id, supply.name] as const] : [])),
    ),
    loads: Object.fromEntries([
      ...runs.map(({ id, number, dips }): [string, LoadName] => [
        id,
        { number, what: dips.map(({ part }) => part.description).join(", ") },
      ]),
      ...holds.map(({ id, kind }): [string, LoadName] => [id, { number: null, what: WORK[kind] }]),
    ]),
    jobs: Object.fromEntries(
      jobs.map(({ id, number, promisedFor }): [string, JobName] => [
        id,
        { number, promisedFor: promisedFor && dateText(promisedFor) },
      ]),
    ),
  };
}

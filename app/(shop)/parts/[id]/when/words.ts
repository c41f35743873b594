import type { HeldBack, Help, WaitsForPull } from "@/lib/scheduling";
import type { BoardNames } from "@/lib/services";

/** How instants, days and lengths of time are written on the page. */
export type Say = {
  readonly when: (atMs: number) => string;
  /** a day as YYYY-MM-DD */
  readonly day: (day: string) => string;
  readonly length: (milliseconds: number) => string;
};

/** @example loadWords("…", names) // "run 12 (hinge, gate)" */
export function loadWords(id: string, { loads }: BoardNames): string {
  const load = loads[id];
  if (!load) return "another load";
  return load.number === null ? load.what : `run ${load.number} (${load.what})`;
}

const inList = (words: readonly string[]): string =>
  words.length < 2 ? (words[0] ?? "") : `${words.slice(0, -1).join(", ")} and ${words.at(-1)}`;

/** Why no start was possible in a stretch of time. */
export function heldBackWords(held: HeldBack, names: BoardNames, say: Say): string {
  const until = say.when(held.untilMs);
  const tank = (id: string): string => names.tanks[id] ?? "the tank";
  switch (held.kind) {
    case "RELEASE":
      return `Until ${until} it cannot go in yet.`;
    case "OTHER_END":
      return `Until ${until} its other end is still in.`;
    case "TANK_BUSY":
      return `Until ${until} ${loadWords(held.byId, names)} is in ${tank(held.tankId)}.`;
    case "GAP_TOO_SHORT":
      return `Before ${until} ${tank(held.tankId)} is free, but not long enough: ${say.length(held.shortHours * 3_600_000)} short of what it needs before ${loadWords(held.nextId, names)}.`;
    case "SHUT":
      return `Until ${until} nobody is there for as long as loading takes.`;
    case "HANDS_TAKEN":
      return `Until ${until} everybody's hands are full with ${inList(held.byIds.map((id) => loadWords(id, names)))}.`;
    case "SUPPLY_FULL":
      return `Until ${until} ${names.supplies[held.supplyId] ?? "the supply"} has ${held.shortA.toFixed(1)} A too little left beside ${inList(held.byIds.map((id) => loadWords(id, names)))}.`;
  }
}

/** Why a load that is done stays in. */
export const waitsWords = ({ hours, because }: WaitsForPull, say: Say): string =>
  `Once done it stays in for ${say.length(hours * 3_600_000)}, until somebody ${because === "SHUT" ? "is there" : "has free hands"} to pull and finish it.`;

/** What would make it earlier, as something to do. */
export function helpWords(help: Help, names: BoardNames, say: Say): string {
  switch (help.kind) {
    case "OPEN":
      return `Open on ${say.day(help.opening.label)}`;
    case "HANDS":
      return "One more pair of hands at the bench";
    case "SUPPLY":
      return `A supply of its own for ${names.tanks[help.tankId] ?? "the tank"}`;
    case "SHARE":
      return `Put it in with ${inList(help.moved.map(({ from }) => loadWords(from.id, names)))}`;
    case "GIVE_WAY":
      return `Let ${inList(help.moved.map(({ from }) => loadWords(from.id, names)))} give way`;
  }
}

/** What is gained, against the promise without it. */
export function gainWords({ slot, gainedDays, gainedHours }: Help, say: Say): string {
  const ready = `ready on ${say.day(slot.day)}`;
  if (gainedHours === null) return `${ready}; without it there is no slot at all`;
  if (gainedDays !== null && gainedDays > 0) {
    return `${ready}, ${gainedDays} ${gainedDays === 1 ? "day" : "days"} sooner`;
  }
  return `${ready}, ${say.length(gainedHours * 3_600_000)} sooner`;
}

/** Promises that would break, named; empty when none does. */
export function brokenWords(help: Help, names: BoardNames): string {
  if (help.kind !== "SHARE" && help.kind !== "GIVE_WAY") return "";
  const jobs = [...new Set(help.moved.flatMap(({ lateJobIds }) => lateJobIds))];
  if (jobs.length === 0) return "";
  const named = jobs.map((id) => `job ${names.jobs[id]?.number ?? "?"}`);
  return `Then ${inList(named)} would not keep the promised day any more.`;
}

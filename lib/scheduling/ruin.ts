import type { Arrangement, Placed } from "./arrangement";
import type { Chance } from "./simulate-chance";

/** At most so many units are taken off at once. */
const MOST = 16;

/**
 * Which units are taken off next: a few that have to do with each other, since what stands in each other's way can only
 * be put better together. At random a late one or any; those near it in time, in its tank or on its supply; or all of
 * one tank from an instant on. What waits for a unit that goes, goes too.
 */
export function pickRuin(arrangement: Arrangement, chance: Chance): readonly Placed[] {
  const all = [...arrangement.placed];
  if (all.length === 0) return [];
  const most = Math.min(all.length, MOST);
  const count = 1 + Math.floor(chance.uniform() ** 1.5 * most);
  const seed = pickSeed(arrangement, all, chance);
  const kind = chance.uniform();
  const picked =
    kind < 0.25
      ? shuffled(all, chance).slice(0, count)
      : kind < 0.8
        ? near(all, seed, chance).slice(0, count)
        : tankFrom(all, seed).slice(0, count);
  return withFollowers(all, picked);
}

/** A unit of a late job as often as any other. */
function pickSeed(arrangement: Arrangement, all: readonly Placed[], chance: Chance): Placed {
  const any = all[Math.floor(chance.uniform() * all.length)] ?? all[0];
  if (!any) throw new RangeError("nothing is placed to be taken off");
  if (chance.uniform() < 0.5) return any;
  const late = all.filter(({ unit, doneMs }) =>
    unit.jobs.some((job) => arrangement.lateness(job, doneMs) > 0),
  );
  return late[Math.floor(chance.uniform() * late.length)] ?? lastOf(all, any);
}

/** The one that ends the board. */
const lastOf = (all: readonly Placed[], any: Placed): Placed =>
  all.reduce((last, placed) => (placed.doneMs > last.doneMs ? placed : last), any);

function near(all: readonly Placed[], seed: Placed, chance: Chance): readonly Placed[] {
  const length = seed.stretch.endStep - seed.stretch.startStep;
  return all
    .map((placed) => {
      const apart = Math.abs(placed.stretch.startStep - seed.stretch.startStep);
      const elsewhere = placed.stretch.tank === seed.stretch.tank ? 0 : length / 2;
      return { placed, far: (apart + elsewhere) * (0.5 + chance.uniform()) };
    })
    .sort((a, b) => a.far - b.far)
    .map(({ placed }) => placed);
}

const tankFrom = (all: readonly Placed[], seed: Placed): readonly Placed[] =>
  all
    .filter(
      ({ stretch }) =>
        stretch.tank === seed.stretch.tank && stretch.startStep >= seed.stretch.startStep,
    )
    .sort((a, b) => a.stretch.startStep - b.stretch.startStep);

function withFollowers(all: readonly Placed[], picked: readonly Placed[]): readonly Placed[] {
  const set = new Set(picked);
  let grown = true;
  while (grown) {
    grown = false;
    const gone = new Set([...set].flatMap(({ unit }) => unit.dips));
    for (const placed of all) {
      if (set.has(placed) || !placed.unit.after.some((dip) => gone.has(dip))) continue;
      set.add(placed);
      grown = true;
    }
  }
  return [...set];
}

function shuffled<T>(all: readonly T[], chance: Chance): readonly T[] {
  const mixed = [...all];
  for (let at = mixed.length - 1; at > 0; at -= 1) {
    const other = Math.floor(chance.uniform() * (at + 1));
    [mixed[at], mixed[other]] = [mixed[other] as T, mixed[at] as T];
  }
  return mixed;
}

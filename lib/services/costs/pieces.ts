import type { CostedPart, LabourRow } from "@/lib/data";
import type { Piece, RateCard } from "@/lib/pricing";
import type { JobRecords, RunShare } from "./actuals";

/** Minutes of each task that these parts would take by the rate card, not scaled to any estimate. */
function plannedTasks(parts: readonly CostedPart[], rates: RateCard): ReadonlyMap<string, number> {
  const planned = parts.flatMap(({ plan }) => (plan ? [plan] : []));
  const dips = planned.reduce((all, { dipCount }) => all + dipCount, 0);
  const areaM2 = planned.reduce((all, plan) => all + plan.areaM2, 0);
  return new Map([
    ["take in", planned.length * rates.intakeMinutesPerPart],
    ["load", dips * rates.loadMinutesPerRun],
    ["pull", dips * rates.pullMinutesPerRun],
    ["finish", areaM2 * rates.finishMinutesPerM2],
  ]);
}

/**
 * Hours by task, each with who worked them, against what was planned for it. The estimate keeps its hours whole: they
 * are laid to the tasks as the rate card would, so that the tasks add up to what was quoted.
 *
 * @param plannedHours h in the estimate
 */
export function labourPieces(
  labour: readonly LabourRow[],
  parts: readonly CostedPart[],
  rates: RateCard,
  plannedHours: number,
): readonly Piece[] {
  const weights = plannedTasks(parts, rates);
  const all = [...weights.values()].reduce((sum, weight) => sum + weight, 0);
  const tasks = [...new Set([...weights.keys(), ...labour.map(({ task }) => task)])];
  return tasks.map((task) => {
    const minutes = labour
      .filter((entry) => entry.task === task)
      .reduce((sum, entry) => sum + entry.minutes, 0);
    const planned = all > 0 ? ((weights.get(task) ?? 0) / all) * plannedHours * 60 : 0;
    const who = whoWorked(labour, task);
    return {
      words: `${sentence(task)}: ${who || "nobody yet"}; planned ${Math.round(planned)} min.`,
      more: (minutes - planned) / 60,
    };
  });
}

/** @example whoWorked(labour, "finish") // "Piet 95 min, Ada 10 min" */
function whoWorked(labour: readonly LabourRow[], task: string): string {
  const minutes = new Map<string, number>();
  for (const entry of labour) {
    if (entry.task !== task) continue;
    minutes.set(entry.personName, (minutes.get(entry.personName) ?? 0) + entry.minutes);
  }
  return [...minutes]
    .sort(([, a], [, b]) => b - a)
    .map(([name, worked]) => `${name} ${Math.round(worked)} min`)
    .join(", ");
}

const sentence = (words: string): string => `${words.charAt(0).toUpperCase()}${words.slice(1)}`;

/** Tank hours or energy by run, each as this job bears it, against the plans of its parts in it. */
export function runPieces(
  kind: "TANK_TIME" | "ENERGY",
  runs: readonly RunShare[],
): readonly Piece[] {
  return runs.map((run) => {
    const soFar = run.settled ? "" : " so far";
    if (kind === "ENERGY") {
      const { jobEnergyKwh: took, planned } = run;
      return {
        words: `Run ${run.number} took ${took.toFixed(2)} kW·h for this job${soFar}; planned were ${planned.energyKwh.toFixed(2)} kW·h.`,
        more: took - planned.energyKwh,
      };
    }
    const share =
      run.jobShare < 1 ? `, of which this job bears ${Math.round(run.jobShare * 100)} %` : "";
    return {
      words: `Run ${run.number} held ${run.tankName} ${run.hours.toFixed(1)} h${soFar}${share}; planned were ${run.planned.hoursP50.toFixed(1)} h, at most ${run.planned.hoursP90.toFixed(1)} h.`,
      more: (run.hours - run.planned.hoursP50) * run.jobShare,
    };
  });
}

/** What was drawn from the shelves, in words. */
export function stockWords(kind: "SODA" | "CONSUMABLES", { entries }: JobRecords): string {
  const salt = kind === "SODA";
  const drawn = entries.filter(
    ({ itemKind }) => (itemKind === "SALT") === salt && itemKind !== "ANODE_STEEL",
  );
  if (drawn.length > 0) {
    return [...new Set(drawn.map(({ itemName, note }) => `${itemName}: ${note}.`))].join(" ");
  }
  return salt
    ? "Its share of the baths it went through, by the charge it passed."
    : "No consumables were written down for it.";
}

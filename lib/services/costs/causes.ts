import { type JobCost, LINE_KIND_WORDS, type LineKind } from "@/lib/pricing";
import type { JobRecords } from "./actuals";

/** One kind of cost that came out otherwise than estimated, and what stands behind it. */
export type Cause = {
  readonly kind: LineKind;
  /** positive took more */
  readonly varianceMinor: number;
  /** "labour", "tank time" */
  readonly words: string;
  /** who and what, in short sentences */
  readonly because: readonly string[];
};

/** How many differences are told apart. */
const CAUSES = 4;

/** The largest differences between what was estimated and what it took, with who or what made them. */
export function causesOf(cost: JobCost, records: JobRecords): readonly Cause[] {
  return cost.lines
    .filter(({ varianceMinor }) => varianceMinor !== 0)
    .sort((a, b) => Math.abs(b.varianceMinor) - Math.abs(a.varianceMinor))
    .slice(0, CAUSES)
    .map(({ kind, varianceMinor }) => ({
      kind,
      varianceMinor,
      words: LINE_KIND_WORDS[kind],
      because: behind(kind, records),
    }));
}

function behind(kind: LineKind, records: JobRecords): readonly string[] {
  switch (kind) {
    case "LABOUR":
      return labourWords(records);
    case "TANK_TIME":
      return records.runs.map(
        ({ number, tankName, hours, planned, settled }) =>
          `Run ${number} held ${tankName} ${hoursText(hours)}${settled ? "" : " so far"}; ` +
          `the plan said ${hoursText(planned.hoursP50)}, at most ${hoursText(planned.hoursP90)}.`,
      );
    case "ENERGY":
    case "ANODE_STEEL":
    case "DISPOSAL":
      return records.runs.map(
        ({ number, jobChargeAh, planned, settled }) =>
          `Run ${number} passed ${Math.round(jobChargeAh)} A·h for this job${settled ? "" : " so far"}; ` +
          `the plan said ${Math.round(planned.chargeAh)} A·h.`,
      );
    case "SODA":
    case "CONSUMABLES":
      return stockWords(kind, records);
    case "CONTINGENCY":
      return ["Set aside for longer hours; what longer hours cost stands under the other lines."];
    case "OVERHEAD":
      return ["A percentage of the direct cost: it follows the other lines."];
    case "MARGIN":
      return [];
  }
}

function labourWords({ labour }: JobRecords): string[] {
  if (labour.length === 0) return ["Nobody has written down any minutes yet."];
  const minutes = new Map<string, number>();
  for (const entry of labour) {
    const who = `${entry.personName}, ${entry.task}`;
    minutes.set(who, (minutes.get(who) ?? 0) + entry.minutes);
  }
  return [...minutes]
    .sort(([, a], [, b]) => b - a)
    .map(([who, total]) => `${who}: ${Math.round(total)} min.`);
}

function stockWords(kind: "SODA" | "CONSUMABLES", { entries }: JobRecords): string[] {
  const salt = kind === "SODA";
  const drawn = entries.filter(
    ({ itemKind }) => (itemKind === "SALT") === salt && itemKind !== "ANODE_STEEL",
  );
  if (drawn.length > 0)
    return [...new Set(drawn.map(({ itemName, note }) => `${itemName}: ${note}.`))];
  return salt
    ? ["Its share of the baths it went through, by the charge it passed."]
    : ["No consumables were written down for it."];
}

const hoursText = (hours: number): string => `${hours.toFixed(1)} h`;

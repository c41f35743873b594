import type { AnodeFigure } from "@/lib/services";

/** The day an anode is due, and how sure that is, in words. */
export function replaceWords(
  { life, replaceBy }: Pick<AnodeFigure, "life" | "replaceBy">,
  dayText: (day: Date) => string,
): { readonly day: string; readonly range: string } {
  if (!life || !replaceBy) return { day: "no date", range: "not worn in the last weeks" };
  if (life.value === 0) return { day: "now", range: "it has lost its share" };
  const latest = replaceBy.p90 ? dayText(replaceBy.p90) : "years from now";
  return { day: dayText(replaceBy.p50), range: `from ${dayText(replaceBy.p10)} to ${latest}` };
}

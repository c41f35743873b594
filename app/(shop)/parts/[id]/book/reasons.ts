import type { SlotReason } from "@/lib/scheduling";
import { formatDuration, formatWhen } from "@/lib/server";

type Place = { readonly timeZone: string; readonly locale: string };

/** Why not earlier, or why longer, for people. */
export function reasonWords(reason: SlotReason, place: Place): string {
  switch (reason.kind) {
    case "TANK_BUSY":
      return `Not earlier: another load is in until ${formatWhen(new Date(reason.untilMs), place)}.`;
    case "SUPPLY_FULL":
      return `Not earlier: other tanks need the supply until ${formatWhen(new Date(reason.untilMs), place)}.`;
    case "SHUT":
      return `Not earlier: nobody is there to load before ${formatWhen(new Date(reason.untilMs), place)}.`;
    case "NEXT_LOAD_TOO_SOON":
      return `The free time before ${formatWhen(new Date(reason.nextLoadMs), place)} is too short for it.`;
    case "WAITS_FOR_PULL":
      return `Done while the shop is shut: it stays in ${formatDuration(reason.hours * 3_600_000)} longer, until somebody is there to pull.`;
  }
}

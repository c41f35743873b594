import type { BookablePart, PlanCore, RunRow, TankRow } from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { highestLevel, type Load, packLoad, type Packing, USUAL_GAP_MM } from "@/lib/tanks";
import { tankShape } from "../tanks";

/** A part of a load, as far as hanging it goes. */
export type PartToHang = Pick<
  BookablePart,
  "id" | "mark" | "description" | "quantity" | "lengthMm" | "widthMm" | "heightMm"
> & {
  readonly job: { readonly number: number };
  readonly plan: { readonly result: Pick<PlanCore["result"], "figures"> } | null;
};

/** How a load hangs in its tank, or why it does not. */
export type Layout = {
  readonly load: Load;
  readonly packing: Packing;
  readonly parts: readonly {
    readonly id: string;
    /** Its mark; with its job's number where the load is of several jobs. */
    readonly label: string;
    readonly description: string;
    readonly quantity: number;
  }[];
};

/**
 * Lays a load out in a tank as it is now, every piece of every part.
 *
 * @returns null where the tank's working level cannot be: the tank is to be corrected first
 */
export function layOut(parts: readonly PartToHang[], tank: TankRow): Layout | null {
  const shape = tankShape(tank);
  if (tank.workingLevelMm > highestLevel(shape)) return null;
  const load: Load = {
    shape,
    workingLevelMm: tank.workingLevelMm,
    clearanceMm: tank.clearanceMm,
    gapMm: USUAL_GAP_MM,
    parts: parts.map(({ id, quantity, plan, lengthMm, widthMm, heightMm }) => ({
      id,
      quantity,
      box: { lengthMm, widthMm, heightMm },
      massG: plan?.result.figures.massG.value ?? 0,
    })),
  };
  const oneJob = new Set(parts.map(({ job }) => job.number)).size === 1;
  return {
    load,
    packing: packLoad(load),
    parts: parts.map(({ id, mark, job, description, quantity }) => ({
      id,
      label: oneJob ? mark : `${job.number}-${mark}`,
      description,
      quantity,
    })),
  };
}

/** How the load of a run hangs, while that is still of use. */
export function layoutOfRun(run: RunRow, tank: TankRow): Layout | null {
  if (run.state !== "PLANNED" && run.state !== "RUNNING") return null;
  return layOut(
    run.dips.map(({ part, plan }) => ({ ...part, plan })),
    tank,
  );
}

/** Why a load may not go in as it is. */
export type Doubt = {
  readonly words: string;
  /** Nobody can hang it; else a person who laid it out may know better. */
  readonly proven: boolean;
};

/** What stands against a load, with the parts that find no place; null when it hangs. */
export function doubtOf(layout: Layout | null, tank: Pick<TankRow, "name">): Doubt | null {
  if (!layout) {
    return {
      words: `${tank.name} has its working level above its rim or its highest mark: correct the tank first.`,
      proven: true,
    };
  }
  const { packing } = layout;
  if (packing.packed) return null;
  const left = packing.leftOver.map(({ id, copies }) => leftWords(layout, id, copies));
  const words = [
    packing.why === "TOO_BIG" ? `${capital(left.join(", "))}: ${packing.words}` : packing.words,
    packing.why !== "TOO_BIG" && left.length > 0 ? `No place for ${inList(left)}.` : "",
    adviceFor(layout),
  ];
  return { words: words.filter(Boolean).join(" "), proven: packing.proven };
}

function leftWords({ parts }: Layout, id: string, copies: number): string {
  const part = parts.find((other) => other.id === id);
  if (!part) return "";
  const name = `part ${part.label}`;
  return part.quantity > 1 ? `${copies} of the ${part.quantity} pieces of ${name}` : name;
}

function adviceFor({ parts }: Layout): string {
  if (parts.length > 1) return "Leave a part out.";
  return (parts[0]?.quantity ?? 1) > 1
    ? "Take it in as several parts of fewer pieces each, or plan it for a larger tank."
    : "Plan it for another tank.";
}

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

function inList(words: readonly string[]): string {
  const [last = "", ...before] = [...words].reverse();
  return before.length === 0 ? last : `${before.reverse().join(", ")} and ${last}`;
}

/**
 * Lets a load be booked that hangs, or that a person laid out where no arrangement was found.
 *
 * @returns what was doubted and overruled, in words; null when the load is known to hang
 * @throws Refusal invalid
 */
export function checkHangs(
  layout: Layout | null,
  tank: Pick<TankRow, "name">,
  laidOut: boolean,
): string | null {
  const doubt = doubtOf(layout, tank);
  if (!doubt) return null;
  if (doubt.proven) throw new Refusal("invalid", doubt.words);
  if (laidOut) return doubt.words;
  throw new Refusal("invalid", doubt.words, {
    laidOut: "Lay them out where the tank's free space is marked; if they fit, say so here.",
  });
}

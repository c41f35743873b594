"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { instantOf } from "@/lib/scheduling";
import { formAction, input, shopSettings } from "@/lib/server";
import { assignRun, bookRun, cancelRun, endHold, fixRun, holdTank, moveHold } from "@/lib/services";
import { addressOf, isDay, VIEWS } from "./span";

const Which = z.object({ runId: input.id });
const localTime = z.string().regex(/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}$/, "Choose a day and a time.");

function refresh(): void {
  revalidatePath("/board");
  revalidatePath("/tanks");
}

async function instants(
  startsAt: string,
  endsAt: string,
): Promise<{ readonly startsAt: Date; readonly endsAt: Date }> {
  const { timeZone } = await shopSettings();
  return {
    startsAt: new Date(instantOf(startsAt, timeZone)),
    endsAt: new Date(instantOf(endsAt, timeZone)),
  };
}

export const fixAction = formAction(
  Which.extend({ fixed: z.enum(["yes", "no"]) }),
  async (actor, { runId, fixed }) => {
    await fixRun(actor, { runId, fixed: fixed === "yes" }, new Date());
    refresh();
    return { message: fixed === "yes" ? "It stays where it is." : "It may be moved again." };
  },
);

export const takeOnAction = formAction(
  Which.extend({ mine: z.enum(["yes", "no"]) }),
  async (actor, { runId, mine }) => {
    const personId = mine === "yes" ? actor.personId : null;
    await assignRun(actor, { runId, personId }, new Date());
    refresh();
    return { message: mine === "yes" ? "You load and pull it." : "Whoever is there takes it." };
  },
);

export const cancelAction = formAction(Which, async (actor, { runId }) => {
  await cancelRun(actor, runId, new Date());
  refresh();
});

export const holdAction = formAction(
  z.object({
    tankId: input.id,
    kind: z.enum(["BATH_CHANGE", "ANODE_CHANGE", "MAINTENANCE"], "Choose what is done."),
    startsAt: localTime,
    endsAt: localTime,
    note: input.optionalText(200),
    idempotencyKey: z.uuid(),
  }),
  async (actor, { startsAt, endsAt, ...hold }) => {
    await holdTank(actor, { ...hold, ...(await instants(startsAt, endsAt)) }, new Date());
    refresh();
    return { message: "Booked. No load goes in meanwhile." };
  },
);

export const changeHoldAction = formAction(
  z.object({
    holdId: input.id,
    startsAt: localTime,
    endsAt: localTime,
    note: input.optionalText(200),
    sequence: z.coerce.number().int(),
  }),
  async (actor, { startsAt, endsAt, ...hold }) => {
    await moveHold(actor, { ...hold, ...(await instants(startsAt, endsAt)) }, new Date());
    refresh();
    return { message: "Changed." };
  },
);

export const endHoldAction = formAction(
  z.object({ holdId: input.id, state: z.enum(["DONE", "CANCELLED"]) }),
  async (actor, ended) => {
    await endHold(actor, ended, new Date());
    refresh();
    return { message: ended.state === "DONE" ? "Done." : "Given up." };
  },
);

export const bookSlotAction = formAction(
  z.object({
    tankId: input.id,
    partIds: z.array(input.id).min(1),
    startsAt: z.iso.datetime().transform((text) => new Date(text)),
    notes: input.optionalText(500),
    idempotencyKey: z.uuid(),
    view: z.enum(VIEWS),
    from: z.string().refine(isDay),
  }),
  async (actor, { view, from, ...booking }) => {
    await bookRun(actor, { ...booking, laidOut: false }, new Date());
    refresh();
    redirect(addressOf({ view, from }));
  },
);

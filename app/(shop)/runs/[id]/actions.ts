"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { Refusal } from "@/lib/errors";
import { instantOf } from "@/lib/scheduling";
import { formAction, input, shopSettings } from "@/lib/server";
import {
  cancelRun,
  endReliefBake,
  loadRun,
  moveRun,
  pullRun,
  startReliefBake,
  undoLoad,
  undoPull,
} from "@/lib/services";

const Which = z.object({ runId: input.id });

function show(runId: string): never {
  revalidatePath("/tanks");
  revalidatePath("/");
  redirect(`/runs/${runId}`);
}

export const loadAction = formAction(
  Which.extend({ acknowledged: z.array(z.string()) }),
  async (actor, loading) => {
    await loadRun(actor, loading, new Date());
    show(loading.runId);
  },
);

export const undoLoadAction = formAction(Which, async (actor, { runId }) => {
  await undoLoad(actor, runId, new Date());
  show(runId);
});

export const pullAction = formAction(
  Which.extend({ supplyOff: input.ticked }),
  async (actor, { runId, supplyOff }) => {
    if (!supplyOff) {
      throw new Refusal("invalid", "Switch the supply off first.", {
        supplyOff: "Tick it when it is off.",
      });
    }
    await pullRun(actor, runId, new Date());
    show(runId);
  },
);

export const undoPullAction = formAction(Which, async (actor, { runId }) => {
  await undoPull(actor, runId, new Date());
  show(runId);
});

export const moveAction = formAction(
  Which.extend({
    startsAt: z.string().regex(/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}$/, "Choose a time."),
  }),
  async (actor, { runId, startsAt }) => {
    const { timeZone } = await shopSettings();
    const start = new Date(instantOf(startsAt, timeZone));
    await moveRun(actor, { runId, startsAt: start }, new Date());
    revalidatePath(`/runs/${runId}`);
    return { message: "Moved." };
  },
);

export const cancelAction = formAction(Which, async (actor, { runId }) => {
  await cancelRun(actor, runId, new Date());
  show(runId);
});

const Bake = z.object({ bakeId: input.id });

export const startBakeAction = formAction(Bake, async (actor, { bakeId }) => {
  await startReliefBake(actor, bakeId, new Date());
  revalidatePath("/", "layout");
  return { message: "In the oven." };
});

export const endBakeAction = formAction(Bake, async (actor, { bakeId }) => {
  await endReliefBake(actor, bakeId, new Date());
  revalidatePath("/", "layout");
  return { message: "The bake is recorded." };
});

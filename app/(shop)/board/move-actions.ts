"use server";

import { z } from "zod";
import { input } from "@/lib/server";
import {
  checkMove,
  type MoveCheck,
  type Moved,
  moveRun,
  type TankForRun,
  tanksForRun,
} from "@/lib/services";
import { type Answer, answerTo } from "./answer";

const instant = z
  .number()
  .int()
  .transform((ms) => new Date(ms));

const SentMove = z.object({
  runId: input.id,
  tankId: input.id,
  startsAt: instant,
  endsAt: instant.optional(),
  sequence: z.number().int(),
});

/** A move as the browser sends it: epoch ms. */
export type SentMove = z.input<typeof SentMove>;

/** Gives a run its new place, or says in words why not. */
export async function moveAction(sent: SentMove): Promise<Answer<Moved>> {
  return answerTo(SentMove, sent, (actor, move) => moveRun(actor, move, new Date()));
}

/** What that move would break, by the shop's own rules; nothing is written. */
export async function checkMoveAction(sent: SentMove): Promise<Answer<MoveCheck>> {
  return answerTo(SentMove, sent, (actor, move) => checkMove(actor, move, new Date()));
}

/** What a run would ask of each tank. */
export async function tanksForRunAction(runId: string): Promise<Answer<readonly TankForRun[]>> {
  return answerTo(input.id, runId, (actor, id) => tanksForRun(actor, id));
}

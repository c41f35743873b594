"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { countTry, endSession, formAction, input, requireActor } from "@/lib/server";
import { changeOwnPassword, signOutElsewhere } from "@/lib/services";

const PasswordForm = z.object({
  current: z.string().min(1, "Enter the current password."),
  password: input.newPassword,
});

export const changePasswordAction = formAction(PasswordForm, async (actor, change) => {
  const { sessionId } = await requireActor();
  // A browser left open must not let somebody guess the password behind it.
  await countTry("own-password", actor.personId);
  await changeOwnPassword(actor, { ...change, sessionId }, new Date());
  revalidatePath("/account");
  return { message: "The password is changed; every other browser is signed out." };
});

export const signOutElsewhereAction = formAction(z.object({}), async (actor) => {
  const { sessionId } = await requireActor();
  const ended = await signOutElsewhere(actor, sessionId, new Date());
  revalidatePath("/account");
  return { message: `Signed out of ${ended} other ${ended === 1 ? "browser" : "browsers"}.` };
});

export const signOutAction = formAction(z.object({}), async () => {
  await endSession();
  redirect("/sign-in");
});

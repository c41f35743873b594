"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { ROLES } from "@/lib/access";
import { environment, formAction, input } from "@/lib/server";
import {
  changeRole,
  disablePerson,
  enablePerson,
  invitePerson,
  invitePersonAnew,
  signOutEverywhere,
  withdrawInvite,
} from "@/lib/services";

const role = z.enum(ROLES, "Choose a role.");
const Whom = z.object({ id: input.id });

export const inviteAction = formAction(
  z.object({ name: input.text("a name"), email: input.email, role }),
  async (actor, invite) => {
    const token = await invitePerson(actor, invite, new Date());
    revalidatePath("/people");
    return { message: `${invite.name} is invited.`, link: joinLink(token) };
  },
);

export const inviteAnewAction = formAction(Whom, async (actor, { id }) => {
  const token = await invitePersonAnew(actor, id, new Date());
  revalidatePath("/people");
  return { message: "The link is made.", link: joinLink(token) };
});

const joinLink = (token: string): string => `${environment().publicUrl}/join/${token}`;

export const withdrawAction = formAction(Whom, async (actor, { id }) => {
  await withdrawInvite(actor, id, new Date());
  revalidatePath("/people");
});

export const changeRoleAction = formAction(
  z.object({ id: input.id, role }),
  async (actor, change) => {
    await changeRole(actor, change.id, change.role, new Date());
    revalidatePath("/people");
  },
);

export const disableAction = formAction(Whom, async (actor, { id }) => {
  await disablePerson(actor, id, new Date());
  revalidatePath("/people");
});

export const enableAction = formAction(Whom, async (actor, { id }) => {
  await enablePerson(actor, id, new Date());
  revalidatePath("/people");
});

export const signOutEverywhereAction = formAction(Whom, async (actor, { id }) => {
  const ended = await signOutEverywhere(actor, id, new Date());
  revalidatePath("/people");
  return { message: `Signed out of ${ended} ${ended === 1 ? "browser" : "browsers"}.` };
});

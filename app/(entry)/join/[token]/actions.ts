"use server";

import { redirect } from "next/navigation";
import { z } from "zod";
import { input, openFormAction } from "@/lib/server";
import { acceptInvite } from "@/lib/services";

const JoinForm = z.object({ token: z.string().max(100), password: input.newPassword });

export const joinAction = openFormAction(JoinForm, async ({ token, password }) => {
  await acceptInvite(token, password, new Date());
  redirect("/sign-in?joined=1");
});

"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { callerAddress, countTry, environment, input, openFormAction } from "@/lib/server";
import { acceptQuote, askAboutQuote, declineQuote } from "@/lib/services";

const token = z.string().max(100);
const answer = { token, versionId: input.id, name: input.text("your name", 100) };
const AcceptForm = z.object({
  ...answer,
  /** nothing where only one is offered */
  optionId: z.union([z.literal(""), input.id]).default(""),
});
const DeclineForm = z.object({ ...answer, note: input.optionalText(1000) });

/** The shop is told by mail where mail is set up. */
function post() {
  const { publicUrl, mailIsSetUp } = environment();
  return { publicUrl, isSetUp: mailIsSetUp };
}

export const acceptAction = openFormAction(AcceptForm, async ({ token: link, ...given }) => {
  await countTry("private-link", await callerAddress());
  await acceptQuote(link, given, new Date(), post());
  revalidatePath(`/q/${link}`);
  return { message: "Thank you: accepted." };
});

export const declineAction = openFormAction(DeclineForm, async ({ token: link, ...given }) => {
  await countTry("private-link", await callerAddress());
  await declineQuote(link, given, new Date(), post());
  revalidatePath(`/q/${link}`);
  return { message: "Declined. Thank you for telling us." };
});

const QuestionForm = z.object({
  token,
  name: input.optionalText(100),
  text: input.text("your question", 1000),
});

export const askAction = openFormAction(QuestionForm, async ({ token: link, ...question }) => {
  await countTry("private-link", await callerAddress());
  await askAboutQuote(link, question, new Date(), post());
  return { message: "Your question is with the shop." };
});

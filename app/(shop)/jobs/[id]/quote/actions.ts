"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { environment, formAction, input } from "@/lib/server";
import { draftQuote, renewLink, revokeLink, sendQuote, withdrawQuote } from "@/lib/services";

const TermsForm = z.object({
  jobId: input.id,
  rush: input.ticked,
  discountPercent: input.numberFrom(0, 100, "%"),
  validUntil: input.day,
  messageToCustomer: input.optionalText(2000),
  terms: input.optionalText(5000),
});

export const draftAction = formAction(TermsForm, async (actor, { jobId, ...terms }) => {
  const quoteId = await draftQuote(actor, jobId, terms, new Date());
  revalidatePath(`/jobs/${jobId}/quote`);
  // To the price itself, which stands above the form.
  redirect(`/jobs/${jobId}/quote#quote-${quoteId}`);
});

const LinkForm = z.object({ jobId: input.id, quoteId: input.id, act: z.enum(["send", "renew"]) });

/** Sends the draft or renews its link. The message is the link itself: the one time it can be seen. */
export const linkAction = formAction(LinkForm, async (actor, { jobId, quoteId, act }) => {
  const make = act === "send" ? sendQuote : renewLink;
  const token = await make(actor, quoteId, new Date());
  revalidatePath(`/jobs/${jobId}/quote`);
  return {
    message: "The link is made.",
    link: new URL(`/q/${token}`, environment().publicUrl).toString(),
  };
});

const QuoteForm = z.object({ jobId: input.id, quoteId: input.id });

export const revokeAction = formAction(QuoteForm, async (actor, { jobId, quoteId }) => {
  await revokeLink(actor, quoteId, new Date());
  revalidatePath(`/jobs/${jobId}/quote`);
  return { message: "The link no longer opens anything." };
});

export const withdrawAction = formAction(QuoteForm, async (actor, { jobId, quoteId }) => {
  await withdrawQuote(actor, quoteId, new Date());
  revalidatePath(`/jobs/${jobId}/quote`);
  return { message: "Withdrawn." };
});

"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { environment, formAction } from "@/lib/server";
import { draftQuote, renewLink, revokeLink, sendQuote, withdrawQuote } from "@/lib/services";
import { DraftForm, LinkForm, QuoteForm, wishesOf } from "./forms";

export const draftAction = formAction(DraftForm, async (actor, draft) => {
  const { jobId, usual, taxCode, depositPercent, messageToCustomer, terms, validUntil } = draft;
  const quoteId = await draftQuote(
    actor,
    jobId,
    {
      options: usual ? "usual" : wishesOf(draft),
      taxCode: taxCode || undefined,
      ...{ depositPercent, messageToCustomer, terms, validUntil },
    },
    new Date(),
  );
  revalidatePath(`/jobs/${jobId}/quote`);
  // To the price itself, which stands above the form.
  redirect(`/jobs/${jobId}/quote#quote-${quoteId}`);
});

/** Sends the draft or renews its link. The message is the link itself: the one time it can be seen. */
export const linkAction = formAction(LinkForm, async (actor, { jobId, quoteId, act, mailIt }) => {
  const make = act === "send" ? sendQuote : renewLink;
  const { publicUrl, mailIsSetUp } = environment();
  const mails = mailIt && mailIsSetUp;
  const post = mails ? { publicUrl, isSetUp: true } : null;
  const token = await make(actor, quoteId, new Date(), post);
  revalidatePath(`/jobs/${jobId}/quote`);
  return {
    message: mails ? "The link is made, and a mail with it is on its way." : "The link is made.",
    link: new URL(`/q/${token}`, publicUrl).toString(),
  };
});

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

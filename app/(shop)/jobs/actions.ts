"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { formAction, input } from "@/lib/server";
import { cancelJob, changeJob, closeJob, reopenJob, takeInJob } from "@/lib/services";

const JobForm = z.object({
  promisedFor: input.optionalDay,
  rush: input.ticked,
  jobNotes: input.optionalText(4000),
});
const WhichJob = z.object({ id: input.id });

export const takeInAction = formAction(
  JobForm.extend({ customerId: input.id }),
  async (actor, { customerId, promisedFor, rush, jobNotes }) => {
    const job = { customer: { id: customerId }, promisedFor, rush, notes: jobNotes };
    redirect(`/jobs/${await takeInJob(actor, job, new Date())}/parts/new`);
  },
);

export const takeInForNewCustomerAction = formAction(
  JobForm.extend({
    name: input.text("a name"),
    email: input.optionalEmail,
    phone: input.optionalText(60),
    address: input.optionalText(400),
  }),
  async (actor, { promisedFor, rush, jobNotes, ...customer }) => {
    const job = { customer: { ...customer, notes: "" }, promisedFor, rush, notes: jobNotes };
    redirect(`/jobs/${await takeInJob(actor, job, new Date())}/parts/new`);
  },
);

export const changeJobAction = formAction(
  JobForm.extend({ id: input.id }),
  async (actor, { id, promisedFor, rush, jobNotes }) => {
    await changeJob(actor, id, { promisedFor, rush, notes: jobNotes }, new Date());
    revalidatePath(`/jobs/${id}`);
  },
);

export const closeJobAction = formAction(WhichJob, async (actor, { id }) => {
  await closeJob(actor, id, new Date());
  revalidatePath(`/jobs/${id}`);
  return { message: "Handed back and closed." };
});

export const cancelJobAction = formAction(WhichJob, async (actor, { id }) => {
  await cancelJob(actor, id, new Date());
  revalidatePath(`/jobs/${id}`);
});

export const reopenJobAction = formAction(WhichJob, async (actor, { id }) => {
  await reopenJob(actor, id, new Date());
  revalidatePath(`/jobs/${id}`);
});

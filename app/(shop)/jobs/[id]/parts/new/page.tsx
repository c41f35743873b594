import type { Metadata } from "next";
import { idFrom, load, requireActorWith } from "@/lib/server";
import { jobById } from "@/lib/services";
import { Page } from "@/app/ui";
import { addPartAction } from "../../../../parts/actions";
import { PartForm } from "../../../../parts/part-form";

export const metadata: Metadata = { title: "Take in a part" };

type Props = { readonly params: Promise<{ id: string }> };

export default async function NewPartPage({ params }: Props) {
  const actor = await requireActorWith("take-in");
  const id = idFrom((await params).id);
  const job = await load(() => jobById(actor, id));
  return (
    <Page title="Take in a part" kicker={`Job ${job.number}, ${job.customer.name}`} narrow>
      <PartForm action={addPartAction} hidden={{ jobId: id }} submit="Take it in and decide" />
    </Page>
  );
}

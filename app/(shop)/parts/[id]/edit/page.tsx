import type { Metadata } from "next";
import { idFrom, load, requireActorWith } from "@/lib/server";
import { partById } from "@/lib/services";
import { Confirm, Page } from "@/app/ui";
import { changePartAction, removePartAction } from "../../actions";
import { PartForm } from "../../part-form";

export const metadata: Metadata = { title: "Change a part" };

type Props = { readonly params: Promise<{ id: string }> };

export default async function EditPartPage({ params }: Props) {
  const actor = await requireActorWith("take-in");
  const id = idFrom((await params).id);
  const part = await load(() => partById(actor, id));
  return (
    <Page title={part.description} kicker={`Job ${part.job.number}, part ${part.mark}`} narrow>
      <p>The verdict is made anew and an earlier plan no longer counts.</p>
      <PartForm
        action={changePartAction}
        hidden={{ id }}
        part={part}
        submit="Save and decide anew"
      />
      <Confirm
        label="Remove this part"
        question="The part, its photos and its plan are removed for good."
        action={removePartAction}
        confirm="Remove"
      >
        <input type="hidden" name="id" value={id} />
      </Confirm>
    </Page>
  );
}

import type { Metadata } from "next";
import { requireActorWith } from "@/lib/server";
import { Page, TextLink } from "@/app/ui";
import { addSupplyAction } from "../actions";
import { SupplyForm } from "../supply-form";

export const metadata: Metadata = { title: "New supply" };

export default async function NewSupplyPage() {
  await requireActorWith("set-up-tanks");
  return (
    <Page title="New supply" kicker={<TextLink href="/supplies">Supplies</TextLink>} narrow>
      <SupplyForm action={addSupplyAction} supply={null} submit="Add the supply" />
    </Page>
  );
}

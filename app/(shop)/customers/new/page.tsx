import type { Metadata } from "next";
import { requireActorWith } from "@/lib/server";
import { taxChoices } from "@/lib/services";
import { Page } from "@/app/ui";
import { addCustomerAction } from "../actions";
import { CustomerForm } from "../customer-form";

export const metadata: Metadata = { title: "New customer" };

export default async function NewCustomerPage() {
  const actor = await requireActorWith("take-in");
  const taxes = await taxChoices(actor, new Date());
  return (
    <Page title="New customer" narrow>
      <CustomerForm action={addCustomerAction} taxes={taxes} />
    </Page>
  );
}

import type { Metadata } from "next";
import { requireActorWith } from "@/lib/server";
import { Page } from "@/app/ui";
import { addCustomerAction } from "../actions";
import { CustomerForm } from "../customer-form";

export const metadata: Metadata = { title: "New customer" };

export default async function NewCustomerPage() {
  await requireActorWith("take-in");
  return (
    <Page title="New customer" narrow>
      <CustomerForm action={addCustomerAction} />
    </Page>
  );
}

import type { Metadata } from "next";
import { load, requireActorWith, shopSettings } from "@/lib/server";
import { Page, TextLink } from "@/app/ui";
import { addItemAction } from "../actions";
import { ItemForm } from "../item-form";

export const metadata: Metadata = { title: "Add an item" };

export default async function NewItemPage() {
  await load(() => requireActorWith("keep-stock"));
  const shop = await shopSettings();
  return (
    <Page title="Add an item" kicker={<TextLink href="/stock">Stock</TextLink>} narrow>
      <p>It starts empty; enter what you have as a delivery afterwards, so that it has a cost.</p>
      <ItemForm action={addItemAction} submit="Add the item" units={shop.unitSystem} />
    </Page>
  );
}

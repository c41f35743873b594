import type { Metadata } from "next";
import { idFrom, load, requireActorWith, shopSettings } from "@/lib/server";
import { stockItemPage } from "@/lib/services";
import { Confirm, Form, Page, Submit, TextLink } from "@/app/ui";
import { bringBackItemAction, changeItemAction, retireItemAction } from "../../actions";
import { ItemForm } from "../../item-form";

export const metadata: Metadata = { title: "Change an item" };

type Props = { readonly params: Promise<{ id: string }> };

export default async function EditItemPage({ params }: Props) {
  const actor = await load(() => requireActorWith("keep-stock"));
  const shop = await shopSettings();
  const itemId = idFrom((await params).id);
  const { item } = await load(() => stockItemPage(actor, itemId, { skip: 0, take: 0 }, new Date()));
  return (
    <Page
      title={`Change ${item.name}`}
      kicker={<TextLink href={`/stock/${item.id}`}>{item.name}</TextLink>}
      narrow
    >
      <ItemForm action={changeItemAction} submit="Save" units={shop.unitSystem} item={item} />
      {item.retiredAt ? (
        <Form action={bringBackItemAction} label="Bring back">
          <input type="hidden" name="itemId" value={item.id} />
          <Submit kind="plain">Put it back on the list</Submit>
        </Form>
      ) : (
        <Confirm
          label="Take it off the list"
          question="Nothing of it may be on hand. Its ledger stays, and you can put it back."
          action={retireItemAction}
          confirm="Take it off"
        >
          <input type="hidden" name="itemId" value={item.id} />
        </Confirm>
      )}
    </Page>
  );
}

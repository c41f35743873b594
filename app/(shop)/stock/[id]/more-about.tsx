import type { stockItemPage } from "@/lib/services";
import { TextLink } from "@/app/ui";

type Item = Awaited<ReturnType<typeof stockItemPage>>["item"];

/** Where more is kept of an item than its ledger: bars of steel, the sheet of an epoxy. */
export function MoreAbout({ item: { id, kind, unit } }: { readonly item: Item }) {
  if (kind === "ANODE_STEEL" && unit === "MILLIMETRE") {
    return (
      <p>
        <TextLink href={`/stock/${id}/steel`}>Bars and offcuts</TextLink>
      </p>
    );
  }
  if (kind !== "EPOXY") return null;
  return (
    <p>
      <TextLink href={`/stock/${id}/epoxy`}>Mix it, and its maker’s sheet</TextLink>
    </p>
  );
}

import type { ReactNode } from "react";
import { may } from "@/lib/access";
import { requireActor, shopSettings } from "@/lib/server";
import { Units } from "@/app/ui";
import { Navigation, type NavigationItem } from "./navigation";

/** The signed-in shell: the shop's name, the ways to go, and who is here. */
export default async function ShopLayout({ children }: { readonly children: ReactNode }) {
  const shop = await shopSettings();
  const actor = await requireActor();
  const items: NavigationItem[] = [
    { href: "/", label: "Today" },
    { href: "/jobs", label: "Jobs" },
    { href: "/board", label: "Board" },
    { href: "/tanks", label: "Tanks" },
    { href: "/runs", label: "Runs" },
    { href: "/stock", label: "Stock" },
    { href: "/customers", label: "Customers" },
    { href: "/figures", label: "Figures" },
    ...(may(actor, "see-money") ? [{ href: "/money", label: "Money" }] : []),
    ...(may(actor, "manage-people") ? [{ href: "/people", label: "People" }] : []),
    ...(may(actor, "set-up-shop") ? [{ href: "/settings", label: "Settings" }] : []),
  ];
  return (
    <Units system={shop.unitSystem}>
      <Navigation shopName={shop.name} personName={actor.name} items={items} />
      {children}
    </Units>
  );
}

import { formatWhen } from "@/lib/server";
import { contentsWords } from "../tanks/tank-card";
import { Lines } from "./lines";
import type { HomeProps } from "./props";

/** Tanks that could take a load now. */
export function FreeTanks({ home, shop }: HomeProps) {
  return (
    <Lines
      title="Free"
      id="free"
      empty="No tank is ready and empty."
      lines={home.free.map((view) => ({
        key: view.tank.id,
        href: `/tanks/${view.tank.id}`,
        tone: "zinc",
        title: view.next
          ? `${view.tank.name}, until ${formatWhen(view.next.startsAt, shop)}`
          : view.tank.name,
        detail: contentsWords(view, shop.unitSystem),
      }))}
    />
  );
}

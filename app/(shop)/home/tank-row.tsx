import Link from "next/link";
import { Empty, LinkButton } from "@/app/ui";
import { commonSpan, TankBadge, TankPicture } from "../tanks/tank-card";
import type { HomeProps } from "./props";

/** Every tank, small and to one scale, standing on one floor. */
export function TankRow({ home: { tanks } }: HomeProps) {
  if (tanks.length === 0) {
    return (
      <Empty action={<LinkButton href="/tanks/new">New tank</LinkButton>}>
        The shop has no tanks yet. Measure the first one; everything else is worked out from it.
      </Empty>
    );
  }
  const spanMm = commonSpan(tanks);
  return (
    <nav aria-label="Tanks" className="overflow-x-auto">
      <ul className="flex min-w-min items-end gap-x-1 border-b-4 border-magnetite">
        {tanks.map((view) => (
          <li
            key={view.tank.id}
            className="flex-1"
            style={{ minWidth: "6.5rem", maxWidth: "14rem" }}
          >
            <Link href={`/tanks/${view.tank.id}`} className="block">
              <span className="flex flex-col items-center gap-1 pb-1 text-center text-sm">
                <span className="font-semibold">{view.tank.name}</span>
                <TankBadge view={view} />
              </span>
              <TankPicture view={view} spanMm={spanMm} />
            </Link>
          </li>
        ))}
      </ul>
    </nav>
  );
}

import type { Metadata } from "next";
import type { ReactNode } from "react";
import { may, type Role } from "@/lib/access";
import { formatDay, formatTime, requireActor, shopSettings } from "@/lib/server";
import { seeHome } from "@/lib/services";
import { LinkButton, Page } from "@/app/ui";
import { Attention } from "./home/attention";
import { DueJobs, WaitingParts } from "./home/due";
import { FreeTanks } from "./home/free-tanks";
import { Hands } from "./home/hands";
import { TankRow } from "./home/tank-row";
import { LiveMark } from "./live/live-mark";

export const metadata: Metadata = { title: "Today" };

type Part = "hands" | "attention" | "due" | "waiting" | "free";

/** What each of them looks for first. */
const ORDER: Readonly<Record<Role, readonly Part[]>> = {
  BENCH: ["hands", "attention", "free", "waiting", "due"],
  FRONT_DESK: ["due", "waiting", "free", "attention", "hands"],
  OWNER: ["attention", "hands", "due", "waiting", "free"],
};

export default async function HomePage() {
  const actor = await requireActor();
  const shop = await shopSettings();
  const now = new Date();
  const home = await seeHome(actor, now);
  const shared = { home, shop, now };
  const parts: Readonly<Record<Part, ReactNode>> = {
    hands: <Hands key="hands" {...shared} />,
    attention: <Attention key="attention" {...shared} />,
    due: <DueJobs key="due" {...shared} />,
    waiting: <WaitingParts key="waiting" {...shared} books={may(actor, "book")} />,
    free: <FreeTanks key="free" {...shared} />,
  };
  return (
    <Page
      title={formatDay(home.today, shop)}
      actions={
        may(actor, "take-in") ? (
          <LinkButton href="/jobs/new" kind="main">
            Take in a job
          </LinkButton>
        ) : null
      }
    >
      <LiveMark asOf={formatTime(now, shop)} />
      <TankRow {...shared} />
      <div className="gap-x-8 lg:columns-2 [&>*]:mb-8 [&>*]:break-inside-avoid">
        {ORDER[actor.role].map((part) => parts[part])}
      </div>
    </Page>
  );
}

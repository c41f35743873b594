import type { Metadata } from "next";
import { ROLE_NAMES } from "@/lib/access";
import { requireActor } from "@/lib/server";
import { LinkButton, Page } from "@/app/ui";

export const metadata: Metadata = { title: "Not for this role" };

export default async function NotAllowedPage() {
  const actor = await requireActor();
  return (
    <Page title="Your role may not open this" narrow>
      <p>
        You are signed in as {ROLE_NAMES[actor.role]}. Rates, costs and margins are for people whom
        the owner lets see money. Ask the owner if you need them.
      </p>
      <LinkButton href="/">To the start</LinkButton>
    </Page>
  );
}

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
        You are signed in as {ROLE_NAMES[actor.role]}. What each person sees and does here follows
        from the role that the owner gave them. Ask the owner if you need this screen.
      </p>
      <LinkButton href="/">To the start</LinkButton>
    </Page>
  );
}

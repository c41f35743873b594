import type { Metadata } from "next";
import { ROLE_NAMES } from "@/lib/access";
import { formatWhen, requireActor, shopSettings } from "@/lib/server";
import { feedOverview, ownSessions } from "@/lib/services";
import { Facts, Form, Page, Section, Submit, Table, TextField } from "@/app/ui";
import { changePasswordAction, signOutAction, signOutElsewhereAction } from "./actions";
import { CalendarSection } from "./calendar-section";

export const metadata: Metadata = { title: "Your account" };

type Props = { readonly searchParams: Promise<{ tank?: string | string[] }> };

export default async function AccountPage({ searchParams }: Props) {
  const actor = await requireActor();
  const shop = await shopSettings();
  const { tank } = await searchParams;
  const [sessions, feeds] = await Promise.all([
    ownSessions(actor, new Date()),
    feedOverview(actor),
  ]);
  return (
    <Page title="Your account" narrow>
      <Facts
        facts={[
          { label: "Name", value: actor.name },
          { label: "E-mail", value: actor.email },
          { label: "Role", value: ROLE_NAMES[actor.role] },
        ]}
      />
      <Form action={signOutAction} label="Sign out">
        <Submit kind="plain">Sign out</Submit>
      </Form>
      <CalendarSection
        feeds={feeds}
        shop={shop}
        chosenTank={typeof tank === "string" ? tank : undefined}
      />
      <Section title="Where you are signed in" id="sessions">
        <Table
          caption="Your sessions"
          rows={sessions}
          rowKey={(session) => session.id}
          columns={[
            {
              head: "Browser",
              cell: (session) => (
                <>
                  {browserName(session.userAgent)}
                  {session.id === actor.sessionId ? " (this one)" : ""}
                </>
              ),
            },
            { head: "Last seen", cell: (session) => formatWhen(session.lastSeenAt, shop) },
          ]}
        />
        {sessions.length > 1 ? (
          <div className="mt-4">
            <Form action={signOutElsewhereAction} label="Sign out elsewhere">
              <Submit kind="plain">Sign out everywhere else</Submit>
            </Form>
          </div>
        ) : null}
      </Section>
      <Section title="Change the password" id="password">
        <Form action={changePasswordAction} label="Change the password" clearWhenDone>
          <TextField
            name="current"
            label="Current password"
            type="password"
            autoComplete="current-password"
            required
          />
          <TextField
            name="password"
            label="New password"
            type="password"
            autoComplete="new-password"
            hint="At least 10 characters. Other browsers are signed out."
            required
          />
          <Submit>Change the password</Submit>
        </Form>
      </Section>
    </Page>
  );
}

function browserName(userAgent: string): string {
  const known = ["Firefox", "Edg", "OPR", "Chrome", "Safari"].find((name) =>
    userAgent.includes(name),
  );
  const system = ["Android", "iPhone", "Windows", "Mac OS", "Linux"].find((name) =>
    userAgent.includes(name),
  );
  return `${known?.replace("Edg", "Edge").replace("OPR", "Opera") ?? "A browser"}${system ? ` on ${system}` : ""}`;
}

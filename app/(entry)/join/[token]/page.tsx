import type { Metadata } from "next";
import { ROLE_NAMES } from "@/lib/access";
import { isRefusal } from "@/lib/errors";
import { shopSettings } from "@/lib/server";
import { openInvite } from "@/lib/services";
import { Form, Notice, Page, Submit, TextField } from "@/app/ui";
import { joinAction } from "./actions";

export const metadata: Metadata = { title: "Join", robots: { index: false } };

type Props = { readonly params: Promise<{ token: string }> };

export default async function JoinPage({ params }: Props) {
  const { token } = await params;
  const shop = await shopSettings();
  const invite = await findInvite(token);
  if (typeof invite === "string") {
    return (
      <Page title="This invitation does not work" narrow>
        <Notice tone="oxide" title={invite} />
      </Page>
    );
  }
  return (
    <Page title={`Welcome, ${invite.name}`} kicker={shop.name} narrow>
      <p>
        You join as <strong>{ROLE_NAMES[invite.role]}</strong> with the e-mail{" "}
        <strong>{invite.email}</strong>. Choose a password.
      </p>
      <Form action={joinAction} label="Join">
        <input type="hidden" name="token" value={token} />
        <TextField
          name="password"
          label="A password"
          type="password"
          autoComplete="new-password"
          required
          hint="A few words are easy to keep in mind. At least 10 characters."
        />
        <Submit>Join</Submit>
      </Form>
    </Page>
  );
}

async function findInvite(token: string) {
  try {
    return await openInvite(token, new Date());
  } catch (error) {
    if (isRefusal(error)) return error.message;
    throw error;
  }
}

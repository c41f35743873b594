import type { Metadata } from "next";
import { redirect } from "next/navigation";
import { Notice, Page } from "@/app/ui";
import { currentActor, isShopOpen } from "@/lib/server";
import { SignInForm } from "./sign-in-form";

export const metadata: Metadata = { title: "Sign in" };

type Search = { readonly searchParams: Promise<{ joined?: string; opened?: string }> };

export default async function SignInPage({ searchParams }: Search) {
  if (!(await isShopOpen())) redirect("/welcome");
  if (await currentActor()) redirect("/");
  const { joined, opened } = await searchParams;
  return (
    <Page title="Sign in" narrow>
      {joined ? <Notice tone="bath" title="You are in. Sign in with your new password." /> : null}
      {opened ? <Notice tone="bath" title="The shop is open. Sign in to go to work." /> : null}
      <SignInForm />
      <p className="text-sm text-zinc">
        No account yet? Ask the owner for an invitation. Forgot the password? The owner can make you
        a link for a new one.
      </p>
    </Page>
  );
}

"use client";

import { Form, type FormAction, Submit, TextField } from "@/app/ui";

const LOST = "No answer from the service. Look at the connection and try again.";

/** Signs in through next-auth's own address, which sets the session cookie. */
const signIn: FormAction = async (_previous, form) => {
  const refused = (message: string) => ({ status: "refused", message, stamp: Date.now() }) as const;
  try {
    const token = (await (await fetch("/api/auth/csrf")).json()) as { csrfToken: string };
    const body = new URLSearchParams({
      csrfToken: token.csrfToken,
      email: fieldText(form, "email"),
      password: fieldText(form, "password"),
      json: "true",
    });
    const response = await fetch("/api/auth/callback/credentials", { method: "POST", body });
    const { url } = (await response.json()) as { url: string };
    const error = new URL(url, location.href).searchParams.get("error");
    if (error) return refused(error);
    location.assign("/");
    return { status: "done", message: "Signed in.", stamp: Date.now() };
  } catch {
    return refused(LOST);
  }
};

function fieldText(form: FormData, name: string): string {
  const value = form.get(name);
  return typeof value === "string" ? value : "";
}

export function SignInForm() {
  return (
    <Form action={signIn} label="Sign in">
      <TextField name="email" label="E-mail" type="email" autoComplete="username" required />
      <TextField
        name="password"
        label="Password"
        type="password"
        autoComplete="current-password"
        required
      />
      <Submit>Sign in</Submit>
    </Form>
  );
}

"use client";

import { Button, Page } from "@/app/ui";

/** A fault: already logged on the server; the person gets a way on. */
export default function ErrorScreen({
  reset,
}: {
  readonly error: Error;
  readonly reset: () => void;
}) {
  return (
    <Page title="Something broke here" narrow>
      <p>
        It is our fault, not yours, and nothing was half done: a change is either stored whole or
        not at all. Try again; if it happens twice, tell whoever looks after this service.
      </p>
      <Button type="button" onClick={reset}>
        Try again
      </Button>
    </Page>
  );
}

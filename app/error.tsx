"use client";

import { Button, Page } from "@/app/ui";

type Props = {
  readonly error: Error & { readonly digest?: string };
  /** Asks the server for the page again. */
  readonly retry: () => void;
};

/** A fault: already logged on the server; the person gets a way on, and the mark under which it was logged. */
export default function ErrorScreen({ error, retry }: Props) {
  return (
    <Page title="Something broke here" narrow>
      <p>
        It is our fault, not yours, and nothing was half done: a change is either stored whole or
        not at all. Try again; if it happens twice, tell whoever looks after this service
        {error.digest ? (
          <>
            {" "}
            and name this mark: <strong>{error.digest}</strong>
          </>
        ) : null}
        .
      </p>
      <Button type="button" onClick={retry}>
        Try again
      </Button>
    </Page>
  );
}

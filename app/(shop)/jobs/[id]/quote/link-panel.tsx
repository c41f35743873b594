"use client";

import { useState } from "react";
import { Button, Form, Submit, useFormAnswer } from "@/app/ui";
import { linkAction } from "./actions";

type Props = {
  readonly jobId: string;
  readonly quoteId: string;
  /** Sends the draft, or makes a new link for what was sent. */
  readonly act: "send" | "renew";
};

/** Makes the customer's link and shows it, this once. Stays in place when the draft becomes an offer, so that the link stays too. */
export function LinkPanel({ jobId, quoteId, act }: Props) {
  return (
    <Form action={linkAction} label="The customer's link" className="space-y-3 wrap-anywhere">
      <input type="hidden" name="jobId" value={jobId} />
      <input type="hidden" name="quoteId" value={quoteId} />
      <input type="hidden" name="act" value={act} />
      <FreshLink />
      <Submit kind={act === "send" ? "main" : "plain"}>
        {act === "send" ? "Send: make the customer's link" : "Make a new link"}
      </Submit>
    </Form>
  );
}

function FreshLink() {
  const { state } = useFormAnswer();
  const [copied, setCopied] = useState("");
  const link = state.status === "done" ? state.message : undefined;
  if (!link) return null;
  const copy = async () => {
    await navigator.clipboard.writeText(link);
    setCopied(link);
  };
  return (
    <div className="space-y-2">
      <p>
        Copy the link below and give it to the customer. <strong>It is shown only now</strong>; you
        can always make a new one.
      </p>
      <Button type="button" kind="main" onClick={copy}>
        {copied === link ? "Copied" : "Copy the link"}
      </Button>
    </div>
  );
}

import { Form, FreshLink, Submit } from "@/app/ui";
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
    <Form action={linkAction} label="The customer's link" className="space-y-3">
      <input type="hidden" name="jobId" value={jobId} />
      <input type="hidden" name="quoteId" value={quoteId} />
      <input type="hidden" name="act" value={act} />
      <FreshLink>
        Give this link to the customer. <strong>It is shown only now</strong>; you can always make a
        new one.
      </FreshLink>
      <Submit kind={act === "send" ? "main" : "plain"}>
        {act === "send" ? "Send: make the customer's link" : "Make a new link"}
      </Submit>
    </Form>
  );
}

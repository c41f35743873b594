import { CheckField, Form, FreshLink, Submit } from "@/app/ui";
import { linkAction } from "./actions";
import { MailWithLink } from "./mail-with-link";

/** How the link may reach the customer by mail. */
export type MailWay = {
  /** null where it cannot be mailed from here */
  readonly to: string | null;
  /** why not, where it cannot */
  readonly why: string;
  /** the customer's address for one's own mail program; null where there is none */
  readonly customer: string | null;
  readonly subject: string;
};

type Props = {
  readonly jobId: string;
  readonly quoteId: string;
  /** Sends the draft, or makes a new link for what was sent. */
  readonly act: "send" | "renew";
  readonly mail: MailWay;
};

/** Makes the customer's link and shows it, this once. Stays in place when the draft becomes an offer, so that the link stays too. */
export function LinkPanel({ jobId, quoteId, act, mail }: Props) {
  return (
    <Form action={linkAction} label="The customer's link" className="space-y-3">
      <input type="hidden" name="jobId" value={jobId} />
      <input type="hidden" name="quoteId" value={quoteId} />
      <input type="hidden" name="act" value={act} />
      {mail.to === null ? (
        <p className="text-zinc">{mail.why}</p>
      ) : (
        <CheckField
          name="mailIt"
          label={`Mail it to ${mail.to}, with the quote as a PDF`}
          defaultChecked
        />
      )}
      <FreshLink>
        Give this link to the customer. <strong>It is shown only now</strong>; you can always make a
        new one.
      </FreshLink>
      {mail.to === null ? <MailWithLink to={mail.customer} subject={mail.subject} /> : null}
      <Submit kind={act === "send" ? "main" : "plain"}>
        {act === "send" ? "Send: make the customer's link" : "Make a new link"}
      </Submit>
    </Form>
  );
}

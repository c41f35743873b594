import { Page } from "@/app/ui";

/** The same for a link that was never made, was revoked or has run out: a stranger learns nothing. */
export default function DeadLink() {
  return (
    <Page title="This link does not open a quote" narrow>
      <p>
        It may have run out, or been cut short when it was copied. Ask the shop for a new one: they
        can make it in a moment.
      </p>
    </Page>
  );
}

import { LinkButton, Page } from "@/app/ui";

export default function NotFound() {
  return (
    <Page title="There is nothing at this address" narrow>
      <p>It may have been removed, or the link was cut short.</p>
      <LinkButton href="/">To the start</LinkButton>
    </Page>
  );
}

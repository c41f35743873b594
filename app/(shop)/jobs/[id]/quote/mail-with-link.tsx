"use client";

import { useFormAnswer } from "@/app/ui";

type Props = {
  /** nobody in particular where there is no address */
  readonly to: string | null;
  readonly subject: string;
};

/** Opens one's own mail program with the link that the form around it has just made. */
export function MailWithLink({ to, subject }: Props) {
  const { state } = useFormAnswer();
  const link = state.status === "done" ? state.link : undefined;
  if (!link) return null;
  const words = `Here is our quote. Read it, ask, accept or decline on your private page:\r\n\r\n${link}\r\n`;
  const query = `subject=${encodeURIComponent(subject)}&body=${encodeURIComponent(words)}`;
  return (
    <p>
      <a
        className="link inline-block py-2"
        href={`mailto:${encodeURIComponent(to ?? "")}?${query}`}
      >
        Open a mail with it in your own mail program
      </a>
    </p>
  );
}

"use client";

import dynamic from "next/dynamic";
import { useState } from "react";
import type { FieldFindings, FieldSubject } from "@/lib/treatment";
import { Button, Section } from "@/app/ui";

/** The solver comes to the browser only when somebody asks for it. */
const Panel = dynamic(() => import("./field-panel").then(({ FieldPanel }) => FieldPanel), {
  ssr: false,
  loading: () => <p role="status">Fetching the models …</p>,
});

type Props = {
  readonly subject: FieldSubject;
  /** What the plan's own work found; null where it has not been done. */
  readonly findings: FieldFindings | null;
};

/** How the current spreads over the part in its tank, worked out while one looks; nothing is stored. */
export function FieldSection({ subject, findings }: Props) {
  const [open, setOpen] = useState(false);
  return (
    <Section title="Where the current goes" id="current">
      {open ? (
        <Panel subject={subject} findings={findings} />
      ) : (
        <div className="flex flex-wrap items-center gap-4">
          <Button kind="plain" onClick={() => setOpen(true)}>
            Look into the bath
          </Button>
          <span className="text-zinc">
            Which faces clean first, and how far the inside lags behind.
          </span>
        </div>
      )}
    </Section>
  );
}

"use client";

import dynamic from "next/dynamic";
import { useState } from "react";
import { Button, Section } from "@/app/ui";
import type { WhatIfProps } from "./what-if-panel";

/** The models come to the browser only when somebody asks for them. */
const Panel = dynamic(() => import("./what-if-panel").then(({ WhatIfPanel }) => WhatIfPanel), {
  ssr: false,
  loading: () => <p role="status">Fetching the models …</p>,
});

/** Other settings, tried without storing anything. */
export function WhatIfSection(props: WhatIfProps) {
  const [open, setOpen] = useState(false);
  return (
    <Section title="Try other settings" id="try">
      {open ? (
        <Panel {...props} />
      ) : (
        <div className="flex flex-wrap items-center gap-4">
          <Button
            kind="plain"
            onClick={() => {
              setOpen(true);
            }}
          >
            Try more or less soda, warmth, distance, anode
          </Button>
          <span className="text-zinc">Nothing is stored: the plan stays as it is.</span>
        </div>
      )}
    </Section>
  );
}

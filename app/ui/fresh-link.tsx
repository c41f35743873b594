"use client";

import { type ReactNode, useId, useState } from "react";
import { Button } from "./button";
import { useFormAnswer } from "./form";

/** A link that the form around it has just made, shown this once: to copy by button, or by hand where that is barred. */
export function FreshLink({ children }: { readonly children: ReactNode }) {
  const { state } = useFormAnswer();
  const [copied, setCopied] = useState("");
  const id = useId();
  const link = state.status === "done" ? state.link : undefined;
  if (!link) return null;
  return (
    <div className="space-y-2">
      <label htmlFor={id}>{children}</label>
      <div className="flex flex-wrap gap-2">
        <input
          id={id}
          readOnly
          value={link}
          onFocus={(event) => event.currentTarget.select()}
          className="min-h-11 min-w-48 flex-1 rounded-[var(--radius-plate)] border border-rim bg-sheet px-3"
        />
        <Button type="button" onClick={() => void copy(link, id).then(setCopied)}>
          {copied === link ? "Copied" : "Copy the link"}
        </Button>
      </div>
    </div>
  );
}

/**
 * Copies, or marks the link for copying by hand: browsers keep the clipboard from pages without https.
 *
 * @returns what was copied
 */
async function copy(link: string, id: string): Promise<string> {
  try {
    await navigator.clipboard.writeText(link);
    return link;
  } catch {
    document.getElementById(id)?.focus();
    return "";
  }
}

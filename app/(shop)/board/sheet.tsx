"use client";

import { type ReactNode, useEffect, useId, useRef } from "react";
import { Button } from "@/app/ui";

type SheetProps = {
  readonly title: string;
  readonly kicker?: string;
  readonly onClose: () => void;
  readonly children: ReactNode;
};

/** A sheet over the board: from below on a phone, where the thumb is; at the right on a wide screen. */
export function Sheet({ title, kicker, onClose, children }: SheetProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  const id = useId();
  useEffect(() => {
    dialog.current?.showModal();
  }, []);
  return (
    <dialog
      ref={dialog}
      aria-labelledby={id}
      onClose={onClose}
      onClick={(event) => {
        // The ground beside the sheet is the dialog itself.
        if (event.target === dialog.current) dialog.current.close();
      }}
      className="fixed inset-x-0 top-auto bottom-0 m-0 max-h-[88dvh] w-full max-w-none overflow-y-auto border-t-4 border-magnetite bg-sheet text-magnetite backdrop:bg-black/40 sm:inset-y-0 sm:right-0 sm:left-auto sm:h-dvh sm:max-h-none sm:w-[27rem] sm:border-t-0 sm:border-l-4"
    >
      <div className="sticky top-0 z-10 flex items-start justify-between gap-3 border-b border-line bg-sheet px-4 py-3">
        <div className="min-w-0">
          {kicker ? <p className="text-sm text-zinc">{kicker}</p> : null}
          <h2 id={id} className="text-2xl leading-tight font-bold">
            {title}
          </h2>
        </div>
        <Button
          type="button"
          kind="plain"
          className="min-h-12"
          onClick={() => dialog.current?.close()}
        >
          Close
        </Button>
      </div>
      <div className="space-y-5 px-4 py-4 pb-10">{children}</div>
    </dialog>
  );
}

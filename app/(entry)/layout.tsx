import type { ReactNode } from "react";

/** The door: a quiet sheet with the shop's mark, a tank with its level line. */
export default function EntryLayout({ children }: { readonly children: ReactNode }) {
  return (
    <div className="mx-auto max-w-2xl">
      <p className="flex items-center gap-3 px-4 pt-6 text-lg font-bold tracking-wide sm:px-6">
        <svg viewBox="0 0 32 32" className="size-8" aria-hidden="true">
          <path d="M5 14h22l-2 13H7z" className="fill-liquid" />
          <path d="M4 8l3 20h18l3-20" className="fill-none stroke-magnetite" strokeWidth="2.5" />
          <path d="M16 3v13" className="stroke-oxide" strokeWidth="2.5" />
          <rect x="12" y="16" width="8" height="6" className="fill-oxide" />
        </svg>
        Ironbath
      </p>
      {children}
    </div>
  );
}

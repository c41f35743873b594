"use client";

import { useSyncExternalStore } from "react";

const DARK = "(prefers-color-scheme: dark)";

function onChange(tell: () => void): () => void {
  const query = matchMedia(DARK);
  query.addEventListener("change", tell);
  return () => query.removeEventListener("change", tell);
}

/** Whether the page is in its colours of the night; a drawing that reads them is drawn anew when that changes. */
export function useNight(): boolean {
  return useSyncExternalStore(
    onChange,
    () => matchMedia(DARK).matches,
    () => false,
  );
}

/** A colour of the page by its name in the style sheet. @example inkOf("bath") // "#0f5e6b" */
export function inkOf(name: string): string {
  return getComputedStyle(document.documentElement).getPropertyValue(`--color-${name}`).trim();
}

import type { Metadata } from "next";
import type { ReactNode } from "react";

/** A private link is a secret: not for search engines, and not told to the next site in a referrer. */
export const metadata: Metadata = {
  title: { absolute: "Your quote" },
  robots: { index: false, follow: false },
  referrer: "no-referrer",
};

export default function CustomerLayout({ children }: { readonly children: ReactNode }) {
  return children;
}

import type { Metadata, Viewport } from "next";
import { connection } from "next/server";
import type { ReactNode } from "react";
import "./globals.css";

export const metadata: Metadata = {
  title: { default: "Ironbath", template: "%s · Ironbath" },
  description: "Runs a shop that cleans iron and steel by electrolysis.",
};

export const viewport: Viewport = { width: "device-width", initialScale: 1 };

export default async function RootLayout({ children }: { readonly children: ReactNode }) {
  // Every page is made for its request: the scripts carry that answer's nonce (see proxy.ts).
  await connection();
  return (
    <html lang="en">
      <body>
        <a
          href="#main"
          className="sr-only z-50 bg-magnetite px-4 py-2 text-sheet focus:not-sr-only focus:absolute focus:top-2 focus:left-2"
        >
          Skip to the content
        </a>
        {children}
      </body>
    </html>
  );
}

import type { NextConfig } from "next";

/** On every answer. The content policy is made for each page: see proxy.ts. */
const SECURITY_HEADERS = [
  { key: "X-Content-Type-Options", value: "nosniff" },
  { key: "X-Frame-Options", value: "DENY" },
  // A private link's address is its key: no other site is told where a person came from.
  { key: "Referrer-Policy", value: "same-origin" },
  { key: "Permissions-Policy", value: "camera=(self), geolocation=(), microphone=(), payment=()" },
  { key: "Cross-Origin-Opener-Policy", value: "same-origin" },
  // Browsers heed this over https only, where it belongs.
  { key: "Strict-Transport-Security", value: "max-age=31536000" },
];

/** A private link is a secret: kept by no cache, told to no other site, and found by no search engine. */
const PRIVATE_LINK_HEADERS = [
  { key: "Cache-Control", value: "private, no-store" },
  { key: "Referrer-Policy", value: "no-referrer" },
  { key: "X-Robots-Tag", value: "noindex, nofollow, noarchive" },
];

const config: NextConfig = {
  poweredByHeader: false,
  // Where two set the same header, the later one holds.
  headers: () =>
    Promise.resolve([
      { source: "/:path*", headers: SECURITY_HEADERS },
      { source: "/q/:path*", headers: PRIVATE_LINK_HEADERS },
    ]),
  // These read files of their own package (font metrics, fonts, a compiled solver), which a bundle would leave behind.
  serverExternalPackages: ["pdfkit", "dejavu-fonts-ttf", "highs"],
  // Photos come straight from a phone's camera; a part's own shape may have 25 MB (lib/field), and the form round it.
  experimental: { serverActions: { bodySizeLimit: "26mb" }, proxyClientMaxBodySize: "26mb" },
  // `npm run check` checks the types of everything; a start builds what has passed it, in half the time.
  typescript: { ignoreBuildErrors: true },
};

export default config;

import { describe, expect, it } from "vitest";
import config from "../next.config";

describe("pages behind a private link", () => {
  it("are kept by no cache, told to no other site and found by no search engine", async () => {
    const rules = (await config.headers?.()) ?? [];
    const matching = rules.filter(({ source }) => ["/:path*", "/q/:path*"].includes(source));
    // As they are set: a later one of the same name holds.
    const headers = new Map(matching.flatMap((rule) => rule.headers).map((h) => [h.key, h.value]));
    expect(headers.get("Cache-Control")).toContain("no-store");
    expect(headers.get("Referrer-Policy")).toBe("no-referrer");
    expect(headers.get("X-Robots-Tag")).toContain("noindex");
    expect(headers.get("X-Frame-Options")).toBe("DENY");
  });
});

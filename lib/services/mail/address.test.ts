import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { mailAddress, oneLine } from "./address";

describe("mailAddress", () => {
  it("takes one address, with what stands around it gone", () => {
    expect(mailAddress(" ida.moor+gate@example.org ")).toBe("ida.moor+gate@example.org");
    expect(mailAddress("ida@bücher.example")).toBe("ida@bücher.example");
  });

  it.each([
    "",
    "ida",
    "ida@example",
    "@example.org",
    "ida@@example.org",
    "a@example.org, b@example.org",
    "a@example.org;b@example.org",
    "Ida <ida@example.org>",
    "ida@example.org\nBcc: all@example.org",
    "ida@example.org\r\n\r\nHello",
    "ida@exam ple.org",
    "ida@example.org\0",
    `${"x".repeat(250)}@example.org`,
  ])("takes no other text: %j", (text) => {
    expect(mailAddress(text)).toBeNull();
  });
});

describe("oneLine", () => {
  it("leaves no control character and no line end, whatever was typed", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), (text) => {
        expect(oneLine(text)).not.toMatch(/[\p{Cc}\p{Zl}\p{Zp}]/u);
      }),
    );
  });

  it("keeps the words", () => {
    expect(oneLine(" Ida\r\nBcc: all@example.org ")).toBe("Ida Bcc: all@example.org");
  });
});

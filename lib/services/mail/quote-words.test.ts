import { describe, expect, it } from "vitest";
import { answerMail, offerMail, questionMail } from "./quote-words";

const OFFER = {
  shop: {
    name: "Hollow Lane Ironworks",
    phone: "+44 1562 496 0123",
    email: "hello@hollow.example",
  },
  customerName: "Ida Moor",
  quoteNumber: 17,
  isChange: false,
  options: [{ name: "As planned", total: "£120.00" }],
  validUntil: "6 February 2030",
  message: "",
  link: "https://hollow.example/q/abc",
};
const PAGE = "https://hollow.example/jobs/1/quote";

describe("offerMail", () => {
  it("says price, last day and link", () => {
    const { subject, text } = offerMail(OFFER);
    expect(subject).toBe("Quote 17 from Hollow Lane Ironworks");
    for (const words of ["Dear Ida Moor,", "£120.00 with tax", "6 February 2030", OFFER.link]) {
      expect(text).toContain(words);
    }
    expect(text).not.toContain("\n\n\n");
  });

  it("lists several ways, and says that a change takes the other's place", () => {
    const options = [...OFFER.options, { name: "Rush", total: "£150.00" }];
    const { subject, text } = offerMail({ ...OFFER, isChange: true, options });
    expect(subject).toBe("Changed quote 17 from Hollow Lane Ironworks");
    expect(text).toContain("takes the place of the one before");
    expect(text).toContain("  - As planned: £120.00 with tax\n  - Rush: £150.00 with tax");
  });
});

describe("mails to the shop", () => {
  const answer = {
    quoteNumber: 17,
    customerName: "Ida Moor",
    answeredName: "Ida",
    accepted: true,
    optionName: "Rush",
    total: "£150.00",
    note: "",
    lookAt: "Look at the booking of A.",
    page: PAGE,
  };

  it("say who accepted what, and what to look at", () => {
    const { subject, text } = answerMail(answer);
    expect(subject).toBe("Quote 17 accepted: Ida Moor");
    expect(text).toContain("Ida accepted “Rush” for £150.00 with tax");
    expect(text).toContain("Look at the booking of A.");
    expect(text).toContain(PAGE);
  });

  it("say why one was declined", () => {
    const { subject, text } = answerMail({ ...answer, accepted: false, note: "Too dear." });
    expect(subject).toBe("Quote 17 declined: Ida Moor");
    expect(text).toContain("They write:\nToo dear.");
    expect(text).not.toContain("£150.00");
  });

  it("keep heads on one line whatever a customer is called", () => {
    const customerName = "Ida\r\nBcc: all@example.org\r\n\r\nHello";
    for (const { subject } of [
      offerMail({ ...OFFER, shop: { ...OFFER.shop, name: customerName } }),
      answerMail({ ...answer, customerName }),
      questionMail({ quoteNumber: 1, customerName, name: customerName, question: "?", page: PAGE }),
    ]) {
      expect(subject).not.toMatch(/[\r\n]/);
    }
  });
});

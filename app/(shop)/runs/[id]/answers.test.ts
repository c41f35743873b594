import { describe, expect, it } from "vitest";
import { answersHref, parseAnswers, withoutAnswer } from "./answers";

describe("answers in a run's address", () => {
  it("go there and back", () => {
    const answers = { METER: "steady", CLAMP: "bright" };
    const href = answersHref("42", answers);
    expect(href).toBe("/runs/42?seen=METER.steady,CLAMP.bright#wrong");
    expect(parseAnswers(new URL(href, "http://shop").searchParams.get("seen") ?? "")).toEqual(
      answers,
    );
  });

  it("leave the address plain when there are none", () => {
    expect(answersHref("42", withoutAnswer({ METER: "steady" }, "METER"))).toBe("/runs/42#wrong");
    expect(parseAnswers(undefined)).toEqual({});
  });

  it("leave out what is no answer, and take the first of several", () => {
    expect(parseAnswers("METER,.steady,CLIP.back,meter.x,METER.<b>,A&b.c,")).toEqual({
      CLIP: "back",
    });
    expect(parseAnswers(["METER.jumps", "METER.steady"])).toEqual({ METER: "jumps" });
    expect(parseAnswers([])).toEqual({});
  });
});

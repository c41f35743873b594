import { describe, expect, it } from "vitest";
import { z } from "zod";
import { IDLE_FORM, Refusal } from "@/lib/errors";
import { openFormAction } from "./form-action";
import * as input from "./inputs";

const Schema = z.object({
  name: input.text("a name"),
  rush: input.ticked,
  partIds: z.array(z.string()).default([]),
});

function form(...fields: readonly (readonly [string, string])[]): FormData {
  const data = new FormData();
  for (const [name, value] of fields) data.append(name, value);
  return data;
}

describe("openFormAction", () => {
  const echo = openFormAction(Schema, (data) => Promise.resolve({ message: JSON.stringify(data) }));

  it("hands over what was typed: the last of several, all of a list, nothing unasked", async () => {
    const sent = form(
      ["name", "first"],
      ["name", " last "],
      ["rush", "on"],
      ["partIds", "1"],
      ["partIds", "2"],
      ["role", "OWNER"],
    );
    const answer = await echo(IDLE_FORM, sent);
    expect(answer.status).toBe("done");
    expect(JSON.parse(answer.message ?? "")).toEqual({
      name: "last",
      rush: true,
      partIds: ["1", "2"],
    });
  });

  it("reads an unticked box as false and a list without entries as empty", async () => {
    const answer = await echo(IDLE_FORM, form(["name", "Ada"]));
    expect(JSON.parse(answer.message ?? "")).toEqual({ name: "Ada", rush: false, partIds: [] });
  });

  it("marks the wrong fields and does nothing", async () => {
    let ran = false;
    const action = openFormAction(Schema, () => {
      ran = true;
      return Promise.resolve();
    });
    expect(await action(IDLE_FORM, form())).toMatchObject({
      status: "refused",
      message: "Enter a name.", // the only one: its field may be one that nobody sees
      fields: { name: "Enter a name." },
    });
    expect(ran).toBe(false);
  });

  it("refuses a file where text was asked for", async () => {
    const sent = new FormData();
    sent.append("name", new File(["x"], "x.txt"));
    expect(await echo(IDLE_FORM, sent)).toMatchObject({ fields: { name: "Enter a name." } });
  });

  const failing = (error: Error) => openFormAction(Schema, () => Promise.reject<undefined>(error));

  it("shows a refusal, and a calculation's range, as they stand", async () => {
    const refused = new Refusal("conflict", "Taken.", { name: "Choose another." });
    expect(await failing(refused)(IDLE_FORM, form(["name", "Ada"]))).toMatchObject({
      status: "refused",
      message: "Taken.",
      fields: { name: "Choose another." },
    });
    const range = new RangeError("voltage is 99 V; it must be 0 to 60 V");
    expect(await failing(range)(IDLE_FORM, form(["name", "Ada"]))).toMatchObject({
      status: "refused",
      message: range.message,
    });
  });

  it("lets a fault through to the error boundary", async () => {
    const fault = new TypeError("a bug");
    await expect(failing(fault)(IDLE_FORM, form(["name", "Ada"]))).rejects.toBe(fault);
  });

  it("says Saved where the action has nothing to say", async () => {
    const quiet = openFormAction(Schema, () => Promise.resolve());
    expect(await quiet(IDLE_FORM, form(["name", "Ada"]))).toMatchObject({
      status: "done",
      message: "Saved.",
    });
  });
});

describe("a form in which measures are typed", () => {
  const measured = openFormAction(
    (units) => z.object({ lengthMm: input.measureFrom("length", 1, 1000, units) }),
    ({ lengthMm }) => Promise.resolve({ message: String(lengthMm) }),
  );

  it.each([
    ["US", "254"],
    ["METRIC", "10"],
  ])("is read in the units that it was shown in: %s", async (units, mm) => {
    const answer = await measured(IDLE_FORM, form(["units", units], ["lengthMm", "10"]));
    expect(answer).toMatchObject({ status: "done", message: mm });
  });

  it.each([[["units", "FURLONGS"]], []] as const)("is refused with %j", async (...fields) => {
    const answer = await measured(IDLE_FORM, form(...fields, ["lengthMm", "10"]));
    expect(answer.status).toBe("refused");
    expect(answer.message).toMatch(/out of date/);
  });
});

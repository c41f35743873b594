import { describe, expect, it } from "vitest";
import {
  dropReading,
  keepReading,
  type QueuedReading,
  type Sent,
  sendWaiting,
  waitingReadings,
} from "./reading-queue";

const RUN = "run-1";

function storage(): Storage {
  const kept = new Map<string, string>();
  return {
    length: 0,
    clear: () => kept.clear(),
    key: () => null,
    getItem: (key) => kept.get(key) ?? null,
    setItem: (key, value) => void kept.set(key, value),
    removeItem: (key) => void kept.delete(key),
  };
}

const reading = (key: string): QueuedReading => ({
  idempotencyKey: key,
  at: "2030-01-07T09:00:00.000Z",
  voltsV: 12,
  currentA: 3,
  temperatureC: null,
  levelMm: null,
  note: "",
});
const keys = (from: Storage): readonly string[] =>
  waitingReadings(from, RUN).map(({ idempotencyKey }) => idempotencyKey);
const answers =
  (by: Readonly<Record<string, Sent>>) =>
  ({ idempotencyKey }: QueuedReading): Promise<Sent> =>
    Promise.resolve(by[idempotencyKey] ?? { kind: "sent" });

describe("readings that wait on the phone", () => {
  it("are sent oldest first and dropped once the shop has them", async () => {
    const phone = storage();
    for (const key of ["a", "b"]) keepReading(phone, RUN, reading(key));
    const sent: string[] = [];
    const result = await sendWaiting(phone, RUN, ({ idempotencyKey }) => {
      sent.push(idempotencyKey);
      return Promise.resolve({ kind: "sent" });
    });
    expect(sent).toEqual(["a", "b"]);
    expect(result).toEqual({ sent: 2, refusals: {} });
    expect(keys(phone)).toEqual([]);
  });

  it("all stay when there is no signal", async () => {
    const phone = storage();
    for (const key of ["a", "b"]) keepReading(phone, RUN, reading(key));
    const { sent } = await sendWaiting(phone, RUN, answers({ a: { kind: "no signal" } }));
    expect(sent).toBe(0);
    expect(keys(phone)).toEqual(["a", "b"]);
  });

  it("stay with the shop's words when it does not take one, and the others go", async () => {
    const phone = storage();
    for (const key of ["a", "b"]) keepReading(phone, RUN, reading(key));
    const refused = { kind: "refused", message: "This run was pulled." } as const;
    const result = await sendWaiting(phone, RUN, answers({ a: refused }));
    expect(result).toEqual({ sent: 1, refusals: { a: "This run was pulled." } });
    expect(keys(phone)).toEqual(["a"]);
    dropReading(phone, RUN, "a");
    expect(keys(phone)).toEqual([]);
  });

  it("belong to one run, and nonsense in the storage is no reading", () => {
    const phone = storage();
    keepReading(phone, "run-2", reading("a"));
    expect(keys(phone)).toEqual([]);
    phone.setItem(`ironbath.readings.${RUN}`, "{not json");
    expect(keys(phone)).toEqual([]);
  });
});

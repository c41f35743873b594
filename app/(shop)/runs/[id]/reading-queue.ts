/**
 * Readings that a phone has taken and not yet sent. They stay in the browser's storage until the shop has them, each
 * with the key under which the shop knows a repeat.
 */

/** One reading as it goes over the wire. */
export type QueuedReading = {
  readonly idempotencyKey: string;
  readonly at: string;
  readonly voltsV: number;
  readonly currentA: number;
  readonly temperatureC: number | null;
  readonly levelMm: number | null;
  readonly note: string;
};

/** What became of an attempt to send: done, no signal, or not taken, with the shop's words. */
export type Sent =
  | { readonly kind: "sent" }
  | { readonly kind: "no signal" }
  | { readonly kind: "refused"; readonly message: string };

type Storage = Pick<globalThis.Storage, "getItem" | "setItem" | "removeItem">;

const place = (runId: string): string => `ironbath.readings.${runId}`;

/** The readings of a run that wait to be sent, oldest first; none where the storage holds nonsense. */
export function waitingReadings(storage: Storage, runId: string): readonly QueuedReading[] {
  try {
    const kept: unknown = JSON.parse(storage.getItem(place(runId)) ?? "[]");
    return Array.isArray(kept) ? kept.filter(isReading) : [];
  } catch {
    return [];
  }
}

export function keepReading(storage: Storage, runId: string, reading: QueuedReading): void {
  write(storage, runId, [...waitingReadings(storage, runId), reading]);
}

export function dropReading(storage: Storage, runId: string, idempotencyKey: string): void {
  const others = waitingReadings(storage, runId).filter(
    (reading) => reading.idempotencyKey !== idempotencyKey,
  );
  write(storage, runId, others);
}

/**
 * Sends what waits, oldest first, until there is no signal. What was sent is dropped; so is nothing else: a reading
 * that the shop did not take stays until the person drops it.
 *
 * @returns how many were sent, and the refusals by key
 */
export async function sendWaiting(
  storage: Storage,
  runId: string,
  send: (reading: QueuedReading) => Promise<Sent>,
): Promise<{ readonly sent: number; readonly refusals: Readonly<Record<string, string>> }> {
  let sent = 0;
  const refusals: Record<string, string> = {};
  for (const reading of waitingReadings(storage, runId)) {
    const answer = await send(reading);
    if (answer.kind === "no signal") break;
    if (answer.kind === "refused") {
      refusals[reading.idempotencyKey] = answer.message;
      continue;
    }
    dropReading(storage, runId, reading.idempotencyKey);
    sent += 1;
  }
  return { sent, refusals };
}

function write(storage: Storage, runId: string, readings: readonly QueuedReading[]): void {
  if (readings.length === 0) storage.removeItem(place(runId));
  else storage.setItem(place(runId), JSON.stringify(readings));
}

function isReading(value: unknown): value is QueuedReading {
  return typeof value === "object" && value !== null && "idempotencyKey" in value && "at" in value;
}

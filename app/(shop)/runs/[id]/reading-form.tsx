"use client";

import { useRouter } from "next/navigation";
import { useCallback, useEffect, useRef, useState } from "react";
import { isUnitSystem, type MeasureKind, parseMeasure, plainNumber } from "@/lib/units";
import { Button, MeasureField, NumberField, Said, useUnits } from "@/app/ui";
import {
  dropReading,
  keepReading,
  type QueuedReading,
  type Sent,
  sendWaiting,
  waitingReadings,
} from "./reading-queue";
import { randomKey } from "../../random-key";

const TRY_AGAIN_MS = 15_000;

/** The readings that wait on this phone: sent at once, and again until the shop has them. */
function useReadingQueue(runId: string) {
  const router = useRouter();
  const [waiting, setWaiting] = useState<readonly QueuedReading[]>([]);
  const [refusals, setRefusals] = useState<Readonly<Record<string, string>>>({});
  const sending = useRef(false);

  const flush = useCallback(async (): Promise<void> => {
    if (sending.current) return;
    sending.current = true;
    try {
      const result = await sendWaiting(localStorage, runId, (reading) => send(runId, reading));
      setRefusals(result.refusals);
      setWaiting(waitingReadings(localStorage, runId));
      if (result.sent > 0 && waitingReadings(localStorage, runId).length === 0) {
        router.push(`/runs/${runId}`);
        router.refresh();
      }
    } finally {
      sending.current = false;
    }
  }, [router, runId]);

  useEffect(() => {
    const again = (): void => void flush();
    const timer = setInterval(again, TRY_AGAIN_MS);
    const first = setTimeout(again, 0);
    window.addEventListener("online", again);
    return () => {
      clearInterval(timer);
      clearTimeout(first);
      window.removeEventListener("online", again);
    };
  }, [flush]);

  const keep = (reading: QueuedReading): void => {
    keepReading(localStorage, runId, reading);
    setWaiting(waitingReadings(localStorage, runId));
    void flush();
  };
  const drop = (key: string): void => {
    dropReading(localStorage, runId, key);
    setWaiting(waitingReadings(localStorage, runId));
  };
  return { waiting, refusals, keep, drop };
}

/** Sends what was written down and not sent before this page was left, and says what still waits. */
export function WaitingReadings({ runId }: { readonly runId: string }) {
  const { waiting, refusals, drop } = useReadingQueue(runId);
  return <Waiting waiting={waiting} refusals={refusals} drop={drop} />;
}

/** Takes readings with or without signal: each is kept on the phone first, and sent when it can be. */
export function ReadingForm({ runId }: { readonly runId: string }) {
  const { waiting, refusals, keep, drop } = useReadingQueue(runId);
  const [wrong, setWrong] = useState("");
  const units = useUnits();

  const submit = (event: React.SubmitEvent<HTMLFormElement>): void => {
    event.preventDefault();
    const reading = readForm(new FormData(event.currentTarget));
    if (typeof reading === "string") {
      setWrong(reading);
      return;
    }
    setWrong("");
    event.currentTarget.reset();
    keep(reading);
  };

  return (
    <>
      <form onSubmit={submit} noValidate className="space-y-4" aria-label="Reading">
        <input type="hidden" name="units" value={units} />
        <div className="grid grid-cols-2 gap-4">
          <NumberField name="voltsV" label="Volts" unit="V" large required />
          <NumberField name="currentA" label="Amps" unit="A" large required />
          <MeasureField name="temperatureC" label="Bath" kind="temperature" large />
          <MeasureField name="levelMm" label="Level" kind="length" large />
        </div>
        {wrong ? (
          <p role="alert" className="border-l-4 border-oxide bg-oxide-wash px-3 py-2 text-oxide">
            {wrong}
          </p>
        ) : null}
        <Button size="bench" className="w-full">
          Write it down
        </Button>
      </form>
      <Waiting waiting={waiting} refusals={refusals} drop={drop} />
    </>
  );
}

type WaitingProps = {
  readonly waiting: readonly QueuedReading[];
  readonly refusals: Readonly<Record<string, string>>;
  readonly drop: (key: string) => void;
};

function Waiting({ waiting, refusals, drop }: WaitingProps) {
  return (
    <div role="status" className="mt-4 space-y-2">
      {waiting.map(({ idempotencyKey, voltsV, currentA }) => (
        <div key={idempotencyKey} className="border-l-4 border-brass bg-brass-wash px-3 py-2">
          <p>
            {voltsV} V, {currentA} A:{" "}
            <Said>
              {refusals[idempotencyKey] ?? "kept on this phone, sent when there is signal."}
            </Said>
          </p>
          {refusals[idempotencyKey] ? (
            <Button type="button" kind="plain" size="bench" onClick={() => drop(idempotencyKey)}>
              Drop it
            </Button>
          ) : null}
        </div>
      ))}
    </div>
  );
}

/** The reading that was typed, or what is wrong with it. */
function readForm(form: FormData): QueuedReading | string {
  const text = (name: string): string => {
    const value = form.get(name);
    return typeof value === "string" ? value.trim() : "";
  };
  const units = text("units");
  const measured = (name: string, kind: MeasureKind): number | string | null =>
    text(name) === "" || !isUnitSystem(units) ? null : parseMeasure(kind, text(name), units);
  if (text("voltsV") === "" || text("currentA") === "") return "Read volts and amps off the meter.";
  const [voltsV, currentA] = [plainNumber(text("voltsV")), plainNumber(text("currentA"))];
  if (Number.isNaN(voltsV) || Number.isNaN(currentA)) return "Write numbers, such as 12.4.";
  const temperatureC = measured("temperatureC", "temperature");
  if (typeof temperatureC === "string") return temperatureC;
  const levelMm = measured("levelMm", "length");
  if (typeof levelMm === "string") return levelMm;
  return {
    idempotencyKey: randomKey(),
    at: new Date().toISOString(),
    voltsV,
    currentA,
    temperatureC,
    levelMm,
    note: "",
  };
}

async function send(runId: string, reading: QueuedReading): Promise<Sent> {
  try {
    const response = await fetch(`/runs/${runId}/readings`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(reading),
    });
    if (response.ok) return { kind: "sent" };
    if (response.status >= 500) return { kind: "no signal" };
    const answer = (await response.json()) as { readonly message?: string };
    return { kind: "refused", message: answer.message ?? "The shop did not take it." };
  } catch {
    return { kind: "no signal" };
  }
}

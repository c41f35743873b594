"use client";

import { useEffect, useMemo, useState } from "react";
import { fieldBath, type FieldSubject, innerRod } from "@/lib/treatment";
import { Button, Notice, Said } from "@/app/ui";
import { BathView } from "./bath-view";
import { CutView } from "./cut-view";
import { FieldFigures } from "./field-figures";
import { useField } from "./use-field";
import { ROD_CLEARANCE_MM } from "./worker-words";

type Place = { readonly alongMm: number; readonly acrossMm: number };
const MIDDLE: Place = { alongMm: 0, acrossMm: 0 };
/** After the last move the bath is worked out in full. */
const SETTLED_MS = 250;

/** The bath in space and cut through, with what it says of outside and inside. */
export function FieldPanel({ subject }: { readonly subject: FieldSubject }) {
  const [place, setPlace] = useState(MIDDLE);
  const [rod, setRod] = useState(false);
  const [field, ask] = useField({ subject, place, rod, quick: false });
  const hangable = useMemo(() => innerRod(subject, ROD_CLEARANCE_MM) !== null, [subject]);
  const [settled, setSettled] = useState(true);

  useEffect(() => {
    if (settled) return;
    const timer = setTimeout(() => {
      setSettled(true);
      ask({ subject, place, rod, quick: false });
    }, SETTLED_MS);
    return () => clearTimeout(timer);
  }, [settled, place, rod, subject, ask]);

  const move = (to: Place): void => {
    setPlace(to);
    setSettled(false);
    ask({ subject, place: to, rod, quick: true });
  };
  const hang = (hung: boolean): void => {
    setRod(hung);
    ask({ subject, place, rod: hung, quick: false });
  };
  const { look, asked } = field;
  const bath = useMemo(() => {
    if (!asked) return null;
    const hung = asked.rod ? (innerRod(asked.subject, ROD_CLEARANCE_MM) ?? undefined) : undefined;
    return fieldBath(asked.subject, asked.place, hung);
  }, [asked]);
  return (
    <div className="space-y-6">
      {field.why ? (
        <Notice tone="oxide" title={<Said>{field.why}</Said>}>
          <p>The picture shows the place before it.</p>
        </Notice>
      ) : null}
      {look && bath ? (
        <>
          <div className="grid items-start gap-6 lg:grid-cols-2">
            <BathView look={look} bath={bath} place={place} onMove={move} />
            <div className="space-y-4">
              <RodSwitch hangable={hangable} rod={rod} hang={hang} />
              <Button kind="plain" onClick={() => move(MIDDLE)}>
                Back to the middle of the tank
              </Button>
              <CutView look={look} />
            </div>
          </div>
          <FieldFigures look={look} length={field.length} rod={asked?.rod ?? false} />
        </>
      ) : null}
      <p role="status" className="text-sm text-zinc">
        {field.busy ? "Working out the bath …" : "Worked out in this browser; nothing is stored."}
      </p>
    </div>
  );
}

type RodProps = {
  readonly hangable: boolean;
  readonly rod: boolean;
  readonly hang: (hung: boolean) => void;
};

function RodSwitch({ hangable, rod, hang }: RodProps) {
  if (!hangable) return null;
  return (
    <div className="plate space-y-2 p-4">
      <label className="flex min-h-12 items-center gap-3 font-medium">
        <input
          type="checkbox"
          className="size-6 accent-bath"
          checked={rod}
          onChange={({ target }) => hang(target.checked)}
        />
        <Said>{"Hang a rod inside: mild steel, {12 mm}"}</Said>
      </label>
      <p className="text-sm">
        <Said>
          {`Supply off before it is hung. Clear of the part by {${ROD_CLEARANCE_MM} mm} all round: touching it is a short circuit. Never stainless steel.`}
        </Said>
      </p>
    </div>
  );
}

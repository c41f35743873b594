"use client";

import { useMemo, useState } from "react";
import type { FieldArrangement, FieldFindings, FieldSubject } from "@/lib/treatment";
import { said } from "@/lib/units";
import { useUnits } from "@/app/ui";
import type { Compared } from "./field-table";
import type { Hung, PartPlace } from "./hung";
import { type FieldSummary, summaryOf } from "./summary";
import type { FieldState } from "./use-field";

type Given = {
  readonly subject: FieldSubject;
  readonly findings: FieldFindings | null;
  readonly field: FieldState;
  /** hung inside in what is shown */
  readonly shown: Hung | null;
  readonly limits: readonly number[];
};

const isMiddle = ({ alongMm, acrossMm }: PartPlace): boolean => alongMm === 0 && acrossMm === 0;

/** Summaries of full pictures with nothing inside, kept for comparing, by the place they hold for. */
type Befores = ReadonlyMap<string, FieldSummary>;

/** Places that are kept: the newest. */
const MOST_KEPT = 12;

function withOne(kept: Befores, key: string, summary: FieldSummary): Befores {
  const others = [...kept].filter(([other]) => other !== key);
  return new Map([...others.slice(1 - MOST_KEPT), [key, summary]]);
}

/** What is shown in figures, behind it the same place with nothing inside, where that was worked out. */
export function useCompared({
  subject,
  findings,
  field,
  shown,
  limits,
}: Given): readonly Compared[] {
  const units = useUnits();
  const [befores, setBefores] = useState<Befores>(new Map());
  const { picture, asked, length } = field;
  const summary = useMemo(() => {
    if (!picture || !asked) return null;
    const inMiddle = isMiddle(asked.place) && isMiddle(asked.aside);
    const found: FieldArrangement | null = shown ? shown.found : (findings?.planned ?? null);
    return summaryOf(subject, picture.look, limits, inMiddle ? found : null, length);
  }, [subject, findings, picture, asked, shown, limits, length]);
  if (!summary || !asked) return [];

  const key = JSON.stringify([asked.place, limits]);
  const plain = shown === null;
  const before = befores.get(key);
  if (plain && !asked.quick && before !== summary) {
    setBefores(withOne(befores, key, summary));
  }
  const now: Compared = {
    head: shown ? said(shown.words, units) : "Nothing inside",
    summary,
  };
  return !plain && before ? [{ head: "Nothing inside", summary: before }, now] : [now];
}

"use client";

import { useRouter } from "next/navigation";
import { useState } from "react";
import { Button, type MoneyCustoms, Section, signedMoneyText, useUnits } from "@/app/ui";
import { rowKey } from "./count-book";
import { CountRowForm } from "./count-row";
import { differenceWords } from "./count-words";
import type { SheetPlace, SheetRow } from "./sheet-rows";
import { type Counting, useCount } from "./use-count";

type Props = {
  readonly personId: string;
  readonly places: readonly SheetPlace[];
  readonly customs: MoneyCustoms;
};

/** The walk along the shelves: place by place, one number each, saved one by one. */
export function CountSheet({ personId, places, customs }: Props) {
  const counting = useCount(personId);
  const [open, setOpen] = useState(false);
  const rows = places.flatMap((place) => place.rows);
  const states = rows.map((row) => counting.book[rowKey(row)]?.state);
  const done = states.filter((state) => state === "saved").length;
  const waiting = states.filter((state) => state === "waiting").length;
  return (
    <>
      <div className="sticky top-0 z-10 -mx-4 flex flex-wrap items-center justify-between gap-x-6 gap-y-1 border-b border-line bg-soda px-4 py-2">
        <p role="status" className="font-semibold">
          {done} of {rows.length} counted
          {waiting > 0 ? `, ${waiting} kept on this phone until there is signal` : ""}
        </p>
        <label className="flex min-h-12 items-center gap-3">
          <input
            type="checkbox"
            className="size-6 accent-bath"
            checked={open}
            onChange={(event) => {
              setOpen(event.target.checked);
            }}
          />
          Show what the ledger says
        </label>
      </div>
      {places.map(({ place, rows: kept }) => (
        <Section key={place} title={place || "No place given"}>
          <ul className="space-y-3">
            {kept.map((row) => (
              <CountRowForm
                key={rowKey(row)}
                row={row}
                entry={counting.book[rowKey(row)]}
                counting={counting}
                open={open}
                customs={customs}
              />
            ))}
          </ul>
        </Section>
      ))}
      <Summary rows={rows} counting={counting} customs={customs} />
    </>
  );
}

type SummaryProps = {
  readonly rows: readonly SheetRow[];
  readonly counting: Counting;
  readonly customs: MoneyCustoms;
};

/** What differed on this walk, and what that comes to. */
function Summary({ rows, counting, customs }: SummaryProps) {
  const units = useUnits();
  const router = useRouter();
  // What the ledger says, and the list of counts, are as of when the page was opened.
  const begin = (): void => {
    counting.clear();
    router.refresh();
  };
  const saved = rows.flatMap((row) => {
    const entry = counting.book[rowKey(row)];
    return entry?.state === "saved" ? [{ row, entry }] : [];
  });
  const differed = saved.filter(({ entry }) => entry.difference !== 0);
  const worth = differed.reduce((total, { entry }) => total + (entry.costMinor ?? 0), 0);
  const money = saved.some(({ entry }) => entry.costMinor !== null);
  return (
    <Section title="What differed" id="differed">
      {saved.length === 0 ? <p>Nothing is counted yet. What you skip stays as it is.</p> : null}
      {saved.length > 0 && differed.length === 0 ? <p>All that was counted agrees.</p> : null}
      <ul className="mb-4 space-y-1">
        {differed.map(({ row, entry }) => (
          <li key={rowKey(row)}>
            <span className="font-medium">{row.name}</span>
            {row.lotWords ? ` (${row.lotWords})` : ""}:{" "}
            {differenceWords(entry.difference, row.unit, units)}
            {entry.costMinor === null ? null : (
              <span className="whitespace-nowrap">
                , {signedMoneyText(entry.costMinor, customs)}
              </span>
            )}
            {entry.note ? <span className="text-zinc">: {entry.note}</span> : null}
          </li>
        ))}
      </ul>
      {differed.length > 0 && money ? (
        <p className="mb-4 font-semibold">In all {signedMoneyText(worth, customs)} at cost</p>
      ) : null}
      {saved.length > 0 ? (
        <Button type="button" kind="plain" size="bench" onClick={begin}>
          Done: begin a new walk
        </Button>
      ) : null}
    </Section>
  );
}

"use client";

import { useState } from "react";
import type { Supply } from "@/lib/electrolysis";
import {
  mostDose,
  type Outlook,
  outlook,
  plannedSettings,
  type WhatIfSettings,
  type WhatIfStart,
} from "@/lib/treatment";
import { formatMeasure, said, type UnitSystem } from "@/lib/units";
import { Button, Figure, Figures, formatNumber, Notice, useUnits } from "@/app/ui";
import { DoseScale } from "./dose-scale";
import { Slider } from "./slider";

export type WhatIfProps = {
  readonly start: WhatIfStart;
  readonly supplies: readonly {
    readonly id: string;
    readonly name: string;
    readonly supply: Supply;
  }[];
  readonly supplyId: string;
};

/** Strongest dose that the slider offers, g/L: far beyond what shops mix. */
const MOST_DOSE = 60;
const LEAST_DOSE = 0.2;

/** Sliders over the plan's own models: current, hours, gas and warnings follow at once, in the browser. */
export function WhatIfPanel({ start, supplies, supplyId }: WhatIfProps) {
  const units = useUnits();
  const planned = plannedSettings(start);
  const [settings, setSettings] = useState<WhatIfSettings>(planned);
  const [chosenSupply, setChosenSupply] = useState(supplyId);
  const change = (changed: Partial<WhatIfSettings>): void => {
    setSettings((before) => ({ ...before, ...changed }));
  };
  const answer = tried(start, settings);
  return (
    <div className="grid items-start gap-6 lg:grid-cols-[minmax(0,2fr)_minmax(0,3fr)]">
      <div className="plate space-y-5 p-4">
        <Brief answer={answer} />
        <DoseSlider start={start} settings={settings} change={change} answer={answer} />
        <OtherSliders planned={planned} settings={settings} change={change} units={units} />
        <label className="block">
          <span className="mb-1 block font-medium">Supply</span>
          <select
            className="bg-paper min-h-12 w-full rounded border border-rim px-3"
            value={chosenSupply}
            onChange={({ target }) => {
              const taken = supplies.find(({ id }) => id === target.value);
              setChosenSupply(target.value);
              if (taken) change({ supply: taken.supply });
            }}
          >
            {supplies.map(({ id, name }) => (
              <option key={id} value={id}>
                {name}
              </option>
            ))}
          </select>
        </label>
        {start.hollow.insideShare > 0 ? (
          <label className="flex min-h-12 items-center gap-3">
            <input
              type="checkbox"
              className="size-6 accent-bath"
              checked={settings.innerAnode}
              onChange={({ target }) => {
                change({ innerAnode: target.checked });
              }}
            />
            An inner anode hangs in the hollow
          </label>
        ) : null}
        <Button
          kind="plain"
          onClick={() => {
            setSettings(planned);
            setChosenSupply(supplyId);
          }}
        >
          Back to the plan
        </Button>
      </div>
      <Answer answer={answer} units={units} />
    </div>
  );
}

/** The models' answer, or in words why they have none. */
function tried(start: WhatIfStart, settings: WhatIfSettings): Outlook | string {
  try {
    return outlook(start, settings);
  } catch (error) {
    if (error instanceof RangeError) return error.message;
    throw error;
  }
}

type SlidersProps = {
  readonly settings: WhatIfSettings;
  readonly change: (changed: Partial<WhatIfSettings>) => void;
};

function DoseSlider({
  start,
  settings,
  change,
  answer,
}: SlidersProps & { readonly start: WhatIfStart; readonly answer: Outlook | string }) {
  const units = useUnits();
  const most = Math.min(MOST_DOSE, mostDose(start, settings.temperatureC));
  const dose = Math.min(settings.doseGPerL, most);
  return (
    <div>
      <Slider
        label="Soda in the bath, anhydrous"
        shown={formatMeasure("strength", dose, units)}
        value={dose}
        least={LEAST_DOSE}
        most={most}
        logarithmic
        onChange={(doseGPerL) => {
          change({ doseGPerL });
        }}
      />
      {typeof answer === "string" ? null : (
        <DoseScale
          least={LEAST_DOSE}
          most={most}
          usual={answer.usualGPerL}
          strongest={answer.strongestGPerL}
          units={units}
        />
      )}
    </div>
  );
}

function OtherSliders({
  planned,
  settings,
  change,
  units,
}: SlidersProps & { readonly planned: WhatIfSettings; readonly units: UnitSystem }) {
  return (
    <>
      <Slider
        label="Temperature of the bath"
        shown={formatMeasure("temperature", settings.temperatureC, units)}
        value={settings.temperatureC}
        least={0}
        most={45}
        onChange={(temperatureC) => {
          change({ temperatureC });
        }}
      />
      <Slider
        label="Between part and anode"
        shown={formatMeasure("length", settings.distanceMm, units)}
        value={settings.distanceMm}
        least={Math.min(20, planned.distanceMm)}
        most={Math.max(300, planned.distanceMm)}
        onChange={(distanceMm) => {
          change({ distanceMm });
        }}
      />
      <Slider
        label="Anode facing the bath"
        shown={formatMeasure("area", settings.anodeAreaM2, units)}
        value={settings.anodeAreaM2}
        least={planned.anodeAreaM2 / 10}
        most={planned.anodeAreaM2 * 3}
        logarithmic
        onChange={(anodeAreaM2) => {
          change({ anodeAreaM2 });
        }}
      />
      <Slider
        label="Such pieces in the load"
        shown={String(settings.pieces)}
        value={settings.pieces}
        least={1}
        most={12}
        step={1}
        onChange={(pieces) => {
          change({ pieces });
        }}
      />
    </>
  );
}

/** On a phone the figures lie below the sliders: the two that matter most stay in sight. */
function Brief({ answer }: { readonly answer: Outlook | string }) {
  if (typeof answer === "string") return null;
  const { p50, p90 } = answer.hours;
  return (
    <p className="sticky top-0 z-10 border-b border-line bg-sheet py-2 font-semibold lg:hidden">
      {formatNumber(answer.current.value)} A, {formatNumber(p50)} h; nine in ten within{" "}
      {formatNumber(p90)} h
    </p>
  );
}

function Answer({
  answer,
  units,
}: {
  readonly answer: Outlook | string;
  readonly units: UnitSystem;
}) {
  if (typeof answer === "string") {
    return <Notice tone="oxide" title={`That cannot be: ${answer}.`} />;
  }
  return (
    <div className="space-y-3" aria-live="polite">
      <Figures>
        {answer.figures.map((figure) => (
          <Figure key={figure.name} worked={figure} />
        ))}
      </Figures>
      {answer.warnings.length === 0 ? (
        <p className="text-zinc">Nothing stands out with these settings.</p>
      ) : (
        answer.warnings.map((warning) => (
          <Notice key={warning} tone="brass" title={said(warning, units)} />
        ))
      )}
    </div>
  );
}

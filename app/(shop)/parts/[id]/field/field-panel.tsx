"use client";

import { useCallback, useEffect, useMemo, useRef, useState } from "react";
import type { FieldLook } from "@/lib/field";
import type { FieldFindings, FieldSubject } from "@/lib/treatment";
import { Notice, Said } from "@/app/ui";
import { AnodeChoice } from "./anode-choice";
import { CutControls } from "./cut-controls";
import { type CutAsked, cutScene } from "./cut-scene";
import { FieldTable, FindingsTables } from "./field-table";
import { FieldWords, LengthFigure } from "./field-words";
import { type HourSteps, hourSteps, toneAt } from "./hour-steps";
import { bathWith, hangable, type Hung, MIDDLE, type PartPlace } from "./hung";
import { HoursLegend } from "./legend";
import { SectionView } from "./section-view";
import { PartMover, Tick } from "./stage-keys";
import { StageView } from "./stage-view";
import { hoursAt, hoursBetween } from "./summary";
import { useCompared } from "./use-compared";
import { type FieldState, useField } from "./use-field";

type Props = {
  readonly subject: FieldSubject;
  /** What the plan's own work found; null where it has not been done. */
  readonly findings: FieldFindings | null;
};

/** After the last key that moved the part the bath is worked out in full. */
const SETTLED_MS = 250;

/** The bath in space, cut through, and in figures. */
export function FieldPanel({ subject, findings }: Props) {
  const choices = useMemo(() => hangable(subject, findings), [subject, findings]);
  const { place, aside, hung, field, move, moveAnode, hang } = useBath(subject);
  return (
    <div className="space-y-6">
      {field.why ? (
        <Notice tone="oxide" title={<Said>{field.why}</Said>}>
          <p>The pictures show the place before it.</p>
        </Notice>
      ) : null}
      {field.picture && field.asked ? (
        <Pictures
          {...{ subject, findings, choices, place, aside, hung, move, moveAnode, hang }}
          field={{ ...field, picture: field.picture, asked: field.asked }}
        />
      ) : null}
      <p role="status" className="text-sm text-zinc">
        {field.busy ? "Working out the bath …" : "Worked out in this browser; nothing is stored."}
      </p>
    </div>
  );
}

/** @param held more is to come: the hand has not let go */
type Mover = (to: PartPlace, held: boolean) => void;

const alike = (one: PartPlace, other: PartPlace): boolean =>
  one.alongMm === other.alongMm && one.acrossMm === other.acrossMm;

/** Where the part hangs and what in it, and the field of that. */
function useBath(subject: FieldSubject) {
  const [place, setPlace] = useState<PartPlace>(MIDDLE);
  const [hung, setHung] = useState<Hung | null>(null);
  const [aside, setAside] = useState<PartPlace>(MIDDLE);
  const form = hung?.form ?? null;
  const [field, ask] = useField({ subject, place, form, aside, quick: false });
  const [unsettled, setUnsettled] = useState<"held" | "waiting" | null>(null);
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined);

  useEffect(() => () => clearTimeout(timer.current), []);
  const look = (next: { readonly place: PartPlace; readonly aside: PartPlace }, held: boolean) => {
    const same = alike(next.place, place) && alike(next.aside, aside);
    if (same && unsettled === null) return;
    clearTimeout(timer.current);
    setPlace(next.place);
    setAside(next.aside);
    setUnsettled(held ? "held" : "waiting");
    if (!same) ask({ subject, ...next, form, quick: true });
    if (held) return;
    timer.current = setTimeout(() => {
      setUnsettled(null);
      ask({ subject, ...next, form, quick: false });
    }, SETTLED_MS);
  };
  const move: Mover = (to, held) => look({ place: to, aside }, held);
  const moveAnode: Mover = (to, held) => look({ place, aside: to }, held);
  const hang = (next: Hung | null): void => {
    setHung(next);
    // Each hangs first where it was found best.
    setAside(MIDDLE);
    ask({ subject, place, form: next?.form ?? null, aside: MIDDLE, quick: false });
  };
  return { place, aside, hung, field, move, moveAnode, hang };
}

type PicturesProps = Props & {
  readonly choices: readonly Hung[];
  readonly place: PartPlace;
  /** of the anode inside from where it was found best */
  readonly aside: PartPlace;
  readonly hung: Hung | null;
  readonly move: Mover;
  readonly moveAnode: Mover;
  readonly hang: (hung: Hung | null) => void;
  readonly field: FieldState & {
    readonly picture: NonNullable<FieldState["picture"]>;
    readonly asked: NonNullable<FieldState["asked"]>;
  };
};

function Pictures(props: PicturesProps) {
  const { subject, findings, choices, place, aside, hung, move, moveAnode, hang, field } = props;
  const [cutAsked, setCut] = useState<CutAsked>({ axis: "y", share: 0.5, kind: "VOLTS" });
  const [open, setOpen] = useState(false);
  const [lines, setLines] = useState(true);
  const [flat, setFlat] = useState(false);
  const { picture, asked } = field;
  const { look } = picture;
  // What was hung may have left the choices, when the plan's own work came in meanwhile.
  const shown =
    [...choices, ...(hung ? [hung] : [])].find(({ form }) => form === asked.form) ?? null;
  const bath = useMemo(
    () => bathWith(asked.subject, asked.place, asked.form, asked.aside),
    [asked],
  );
  const strength = strengthOf(subject, findings, shown);
  const hours = useMemo(() => hoursAt(subject, strength), [subject, strength]);
  const steps = useSteps(subject, field);
  const toneOf = useCallback(
    (ratio: number) => toneAt(steps, Number.isNaN(ratio) ? ratio : hours(ratio)),
    [steps, hours],
  );
  const scene = useMemo(
    () => cutScene(look, bath, cutAsked, meanSlope(subject, look, asked.quick)),
    [subject, look, bath, cutAsked, asked.quick],
  );
  const compared = useCompared({ subject, findings, field, shown, limits: steps.limits });
  const now = compared.at(-1)?.summary;
  if (!now) return null;
  const section = (
    <SectionView scene={scene} toneOf={toneOf} exact={!asked.quick}>
      <CutControls asked={cutAsked} atM={scene.atM} onAsked={setCut} />
      {flat ? null : <Tick label="Cut the picture above open there" on={open} onChange={setOpen} />}
    </SectionView>
  );
  return (
    <>
      <FieldWords look={look} hung={shown} />
      <div className="grid items-start gap-6 lg:grid-cols-[minmax(0,3fr)_minmax(0,2fr)]">
        {flat ? (
          <div className="space-y-4">
            <Notice tone="zinc" title="This browser draws nothing in space.">
              <p>The bath cut through says the same; the table below has the figures.</p>
            </Notice>
            {section}
          </div>
        ) : (
          <StageView
            {...{ picture, bath, steps, hours, toneOf, lines, place }}
            aside={hung ? aside : null}
            onMoveAnode={moveAnode}
            shownPlace={asked.place}
            cut={open ? scene : null}
            onLines={setLines}
            onMove={move}
            onFailed={() => setFlat(true)}
          />
        )}
        <div className="space-y-4">
          <HoursLegend steps={steps} summary={now} />
          <AnodeChoice choices={choices} chosen={hung} onChoose={hang} />
          <LengthFigure look={look} length={field.length} />
        </div>
        <div className="space-y-4">
          {flat ? (
            <>
              <PartMover what="part" place={place} onMove={move} />
              {hung ? <PartMover what="anode" place={aside} onMove={moveAnode} /> : null}
            </>
          ) : (
            section
          )}
        </div>
        <div className="space-y-4">
          <FieldTable steps={steps} compared={compared} />
          <FindingsTables findings={findings} />
        </div>
      </div>
    </>
  );
}

/** Current of what is shown over that of the plan, where the plan's own work knows it. */
function strengthOf(
  { chosen }: FieldSubject,
  findings: FieldFindings | null,
  shown: Hung | null,
): number {
  const found = shown ? shown.found : (findings?.planned ?? null);
  return (found?.currentA ?? chosen.band.mid.currentA) / chosen.band.mid.currentA;
}

/** Slope of the potential where the part's mean density flows, V/m: a quick look has 1 V and 1 S/m. */
function meanSlope(
  { chosen }: FieldSubject,
  { shapeLengthM, parts }: FieldLook,
  quick: boolean,
): number {
  const areaM2 = parts[0]?.wetAreaM2 ?? 1;
  if (quick) return shapeLengthM / areaM2;
  return chosen.band.mid.currentA / areaM2 / chosen.bath.conductivitySPerM;
}

/** The steps of the tones, from the first full picture on the same, so that before and after can be compared. */
function useSteps(subject: FieldSubject, { picture, asked }: PicturesProps["field"]): HourSteps {
  const [kept, setKept] = useState<HourSteps | null>(null);
  const found = useMemo(
    () => hourSteps(...hoursBetween(picture.look, hoursAt(subject, 1))),
    [subject, picture],
  );
  if (!kept && !asked.quick) setKept(found);
  return kept ?? found;
}

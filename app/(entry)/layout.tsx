import type { ReactNode } from "react";
import { TankDrawing } from "@/app/ui";
import type { TankShape } from "@/lib/tanks";

type Vessel = {
  readonly name: string;
  readonly shape: TankShape;
  readonly levelMm: number;
  readonly spanMm: number;
  readonly part?: { readonly alongMm: number; readonly upMm: number };
};

/** A small shop's row before work begins: a bucket, a trough with a gate hinge in it, a barrel. */
const ROW: readonly Vessel[] = [
  {
    name: "bucket",
    shape: { kind: "ROUND", topDiameterMm: 320, bottomDiameterMm: 270, depthMm: 380 },
    levelMm: 0,
    spanMm: 480,
  },
  {
    name: "trough",
    shape: {
      kind: "TAPERED_BOX",
      ...{ topLengthMm: 1240, topWidthMm: 500, bottomLengthMm: 1120, bottomWidthMm: 420 },
      depthMm: 460,
    },
    levelMm: 370,
    spanMm: 1400,
    part: { alongMm: 700, upMm: 130 },
  },
  {
    name: "barrel",
    shape: { kind: "ROUND", topDiameterMm: 570, bottomDiameterMm: 560, depthMm: 860 },
    levelMm: 690,
    spanMm: 760,
    part: { alongMm: 180, upMm: 420 },
  },
];

/** The door: the shop's tanks on their floor, to one scale, and under them what the visitor came for. */
export default function EntryLayout({ children }: { readonly children: ReactNode }) {
  return (
    <>
      <header className="mx-auto flex max-w-2xl flex-wrap items-end justify-between gap-x-8 border-b-4 border-magnetite px-4 pt-6 sm:px-6">
        <p className="pb-3 text-3xl font-extrabold" style={{ fontStretch: "70%" }}>
          Ironbath
        </p>
        <div aria-hidden="true" className="flex w-full max-w-96 items-end">
          {ROW.map(({ spanMm, ...vessel }) => (
            <div key={vessel.name} style={{ flex: `${spanMm} 1 0` }}>
              <TankDrawing
                {...vessel}
                spanMm={spanMm}
                state={vessel.levelMm > 0 ? "still" : "drained"}
                anode
              />
            </div>
          ))}
        </div>
      </header>
      {children}
    </>
  );
}

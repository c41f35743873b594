/** A run as a section of a vessel: what it stands full of, where it waits, its gate, and the hands at its ends. */
import clsx from "clsx";
import type { CSSProperties } from "react";
import { type Cuts, levels, liquidAcross, px, waterline } from "./run-shape";
import type { RunTone } from "./words";

export type RunLook = {
  readonly tone: RunTone;
  readonly late: boolean;
  readonly fixed: boolean;
};

type DrawingProps = {
  readonly cuts: Cuts;
  /** px across time */
  readonly cross: number;
  readonly look: RunLook;
};

const isWet = ({ tone }: RunLook): boolean => tone !== "pulled" && tone !== "finished";
const isLive = (look: RunLook, cuts: Cuts): boolean =>
  look.tone === "running" || (look.tone === "over" && cuts.treated > 0);

const LIQUID: Readonly<Record<RunTone, string>> = {
  booked: "fill-bath-wash",
  running: "fill-liquid",
  over: "fill-brass-wash",
  pulled: "fill-none",
  finished: "fill-none",
};

const wallClass = (look: RunLook): string =>
  clsx("fill-none", look.late ? "stroke-oxide" : isWet(look) ? "stroke-magnetite" : "stroke-rim");

/** Time lies across: the vessel is seen from the side, its gate at the right. */
export function RunAcross({ cuts, cross, look }: DrawingProps) {
  const { rim, high, low, floor } = levels(cross);
  const wide = cuts.end > 24;
  return (
    <svg
      className="pointer-events-none absolute top-0 left-0 overflow-visible"
      width={px(Math.max(1, cuts.bench))}
      height={cross}
      aria-hidden="true"
    >
      {isWet(look) ? (
        <>
          <path className={LIQUID[look.tone]} d={liquidAcross(cuts, cross)} />
          <path
            className="fill-none stroke-bath"
            strokeWidth={2}
            d={waterline(cuts.loaded, cuts.treated, high, isLive(look, cuts))}
          />
          {cuts.pull - cuts.treated > 4 ? (
            <path
              className="fill-none stroke-bath"
              strokeWidth={1.5}
              strokeDasharray="3 5"
              d={`M ${px(cuts.treated)} ${px(low)} H ${px(cuts.pull)} M ${px(cuts.treated)} ${px(low + 9)} H ${px(cuts.pull)}`}
            />
          ) : null}
        </>
      ) : null}
      <path
        className={wallClass(look)}
        strokeWidth={wide ? (look.tone === "running" ? 3 : 2) : 1.5}
        d={`M 1 ${rim - 3} V ${floor} H ${px(cuts.end - 1)}`}
      />
      <Gate x={cuts.end} wide={wide} open={!isWet(look)} height={cross} look={look} />
      {wide ? <Hands cuts={cuts} floor={floor} /> : null}
      {look.fixed && wide ? <Bolts at={[8, cuts.end - 9]} y={floor - 7} /> : null}
      {look.tone === "running" && wide ? <Rising cuts={cuts} from={floor} to={high} /> : null}
    </svg>
  );
}

/** Lifted out of the way once the load was pulled. */
function Gate({
  x,
  wide,
  open,
  height,
  look,
}: {
  readonly x: number;
  readonly wide: boolean;
  readonly open: boolean;
  readonly height: number;
  readonly look: RunLook;
}) {
  const foot = open ? 0.4 * height : height - 2;
  const bar = wide ? `M ${px(x - 9)} 1.5 H ${px(x + 1)}` : "";
  return (
    <path
      className={wallClass(look)}
      strokeWidth={wide ? 4 : 2}
      d={`M ${px(x - 2)} 1 V ${px(foot)} ${bar}`}
    />
  );
}

/** Somebody is needed: an arrow down where it is loaded, up where it is pulled, a bench where it is finished. */
function Hands({ cuts, floor }: { readonly cuts: Cuts; readonly floor: number }) {
  const load = cuts.loaded / 2;
  const pull = (cuts.pull + cuts.end) / 2 - 2;
  const bench = cuts.bench - cuts.end;
  const top = 7;
  return (
    <g className="fill-none stroke-zinc" strokeWidth={1.5}>
      {cuts.loaded > 7 ? <path d={`M ${px(load)} ${px(top)} v 11 m -3 -4 l 3 4 l 3 -4`} /> : null}
      {cuts.end - cuts.pull > 9 ? (
        <path d={`M ${px(pull)} ${px(top + 11)} v -11 m -3 4 l 3 -4 l 3 4`} />
      ) : null}
      {bench > 3 ? (
        <path
          strokeWidth={2}
          d={`M ${px(cuts.end + 1)} ${px(floor - 16)} H ${px(cuts.bench)} M ${px(cuts.bench - 2)} ${px(floor - 16)} V ${floor}`}
        />
      ) : null}
    </g>
  );
}

function Bolts({ at, y }: { readonly at: readonly number[]; readonly y: number }) {
  return (
    <g className="fill-magnetite stroke-sheet" strokeWidth={1}>
      {at.map((x) => (
        <circle key={x} cx={px(x)} cy={px(y)} r={4} />
      ))}
    </g>
  );
}

function Rising({
  cuts,
  from,
  to,
}: {
  readonly cuts: Cuts;
  readonly from: number;
  readonly to: number;
}) {
  const reach = cuts.treated - cuts.loaded;
  const many = Math.min(7, Math.max(2, Math.floor(reach / 30)));
  return (
    <g className="fill-bubble stroke-bath" strokeWidth={0.75}>
      {Array.from({ length: many }, (_, index) => {
        const style: CSSProperties = {
          animationDelay: `${index * 0.53}s`,
          ...{ "--rise": `${px(-(from - to) * 0.8)}px` },
        };
        return (
          <circle
            key={index}
            className="bubble"
            cx={px(cuts.loaded + ((index + 0.5) / many) * reach)}
            cy={px(from - 6)}
            r={2 + (index % 3) * 0.8}
            style={style}
          />
        );
      })}
    </g>
  );
}

/** Time runs down: a column that is filled at the top and let out at the bottom. */
export function RunUpright({ cuts, cross, look }: DrawingProps) {
  const foot = cuts.end - 2;
  const wait = cuts.pull - cuts.treated;
  return (
    <svg
      className="pointer-events-none absolute top-0 left-0 overflow-visible"
      width={cross}
      height={px(Math.max(1, cuts.bench))}
      aria-hidden="true"
    >
      {isWet(look) ? (
        <>
          <rect
            className={LIQUID[look.tone]}
            x={1}
            width={cross - 2}
            y={px(cuts.loaded)}
            height={px(Math.max(0, cuts.treated - cuts.loaded))}
          />
          <path
            className="fill-none stroke-bath"
            strokeWidth={2}
            d={waterline(1, cross - 1, px(cuts.loaded), isLive(look, cuts))}
          />
          {wait > 6 ? <Still from={cuts.treated} until={cuts.pull} cross={cross} /> : null}
        </>
      ) : null}
      <path
        className={wallClass(look)}
        strokeWidth={look.tone === "running" ? 3 : 2}
        d={`M 1 0 V ${px(foot)} M ${cross - 1} 0 V ${px(foot)}`}
      />
      <path
        className={wallClass(look)}
        strokeWidth={4}
        d={
          isWet(look)
            ? `M 0 ${px(foot)} H ${cross + 3}`
            : `M ${cross * 0.6} ${px(foot)} H ${cross + 3}`
        }
      />
      {cuts.bench - cuts.end > 5 ? (
        <path
          className="fill-none stroke-zinc"
          strokeWidth={2}
          d={`M 8 ${px(cuts.end + 1)} V ${px(cuts.bench)} H 20`}
        />
      ) : null}
      {look.fixed ? <Bolts at={[8, cross - 8]} y={cuts.end - 10} /> : null}
      {look.tone === "running" ? (
        <RisingUpright cross={cross} from={cuts.treated} to={cuts.loaded} />
      ) : null}
    </svg>
  );
}

/** Off, and nobody there to pull: dashes of still water. */
function Still({
  from,
  until,
  cross,
}: {
  readonly from: number;
  readonly until: number;
  readonly cross: number;
}) {
  const lines = Math.max(1, Math.min(60, Math.floor((until - from) / 10)));
  const gap = (until - from) / lines;
  const d = Array.from(
    { length: lines },
    (_, index) => `M 8 ${px(from + (index + 0.6) * gap)} H ${cross - 8}`,
  ).join(" ");
  return <path className="fill-none stroke-bath" strokeWidth={1.5} strokeDasharray="3 5" d={d} />;
}

function RisingUpright({
  cross,
  from,
  to,
}: {
  readonly cross: number;
  readonly from: number;
  readonly to: number;
}) {
  const rise = Math.min(60, (from - to) * 0.7);
  if (rise < 12) return null;
  return (
    <g className="fill-bubble stroke-bath" strokeWidth={0.75}>
      {[0.82, 0.9, 0.74].map((share, index) => {
        const style: CSSProperties = {
          animationDelay: `${index * 0.7}s`,
          ...{ "--rise": `${px(-rise)}px` },
        };
        return (
          <circle
            key={share}
            className="bubble"
            cx={px(share * cross)}
            cy={px(from - 4)}
            r={2 + index * 0.6}
            style={style}
          />
        );
      })}
    </g>
  );
}

import type { AnodeForm, Bathful, FieldLook, Vessel } from "@/lib/field";
import { project, type View } from "./projection";
import { shadeOf, SHADES } from "./shades";

/** Colours of the page, read from its style sheet. */
export type Inks = {
  readonly rim: string;
  readonly liquid: string;
  readonly anode: string;
};

export type Drawn = {
  readonly look: FieldLook;
  readonly bath: Bathful;
  readonly view: View;
  /** Everything nearer than this share of the way across is left out, 0 shows all. */
  readonly cut: number;
};

/** Sides of the polygon that stands for a round tank. */
const ROUND = 40;

/** Draws tank, anodes and part: what is far first, so that what is near covers it. */
export function drawBath(canvas: HTMLCanvasElement, drawn: Drawn, inks: Inks): void {
  const pen = canvas.getContext("2d");
  if (!pen) return;
  const { look, bath, view } = drawn;
  const { grid } = look;
  const [width, height] = [canvas.width, canvas.height];
  pen.clearRect(0, 0, width, height);
  const [x, y, z] = [grid.nx * grid.hx, grid.ny * grid.hy, bath.vessel.depthM];
  const scale = (view.zoom * 0.9 * Math.min(width, height)) / Math.hypot(x, y, z);
  const place: Place = (px, py, pz) => {
    const [across, up] = project(view, px, py, pz - bath.levelM / 2);
    return [width / 2 + scale * across, height / 2 - scale * up];
  };
  const floor = outline(bath.vessel, 0);
  const level = outline(bath.vessel, bath.levelM);
  const top = outline(bath.vessel, bath.vessel.depthM);
  fill(
    pen,
    level.map(([px, py]) => place(px, py, bath.levelM)),
    inks.liquid,
    0.25,
  );
  line(
    pen,
    floor.map(([px, py]) => place(px, py, 0)),
    inks.rim,
    1.5,
  );
  for (const { form } of bath.anodes) drawStrips(pen, bath, form, place, inks.anode);
  drawSurface(pen, drawn, place, inks.anode);
  line(
    pen,
    level.map(([px, py]) => place(px, py, bath.levelM)),
    inks.liquid,
    2,
  );
  line(
    pen,
    top.map(([px, py]) => place(px, py, bath.vessel.depthM)),
    inks.rim,
    2.5,
  );
  floor.forEach(([px, py], index) => {
    if (bath.vessel.kind === "ROUND" && index % (ROUND / 4) !== 0) return;
    const rim = top[index] ?? [0, 0];
    line(pen, [place(px, py, 0), place(rim[0], rim[1], bath.vessel.depthM)], inks.rim, 1.5, false);
  });
}

type Place = (x: number, y: number, z: number) => readonly [number, number];

function outline(vessel: Vessel, z: number): readonly (readonly [number, number])[] {
  const between = (bottom: number, top: number): number =>
    (bottom + (z / vessel.depthM) * (top - bottom)) / 2;
  if (vessel.kind === "ROUND") {
    const radius = between(vessel.bottomDiameterM, vessel.topDiameterM);
    return Array.from({ length: ROUND }, (_, step) => {
      const angle = (2 * Math.PI * step) / ROUND;
      return [radius * Math.cos(angle), radius * Math.sin(angle)];
    });
  }
  const a = between(vessel.bottomLengthM, vessel.topLengthM);
  const b = between(vessel.bottomWidthM, vessel.topWidthM);
  return [
    [-a, -b],
    [a, -b],
    [a, b],
    [-a, b],
  ];
}

/** The strips of a box's anode, one in the middle of each side; a round tank's evenly round it. */
function drawStrips(
  pen: CanvasRenderingContext2D,
  { vessel, levelM }: Bathful,
  form: AnodeForm,
  place: Place,
  ink: string,
): void {
  if (form.kind !== "STRIPS") return;
  const corners = outline(vessel, levelM);
  const feet = outline(vessel, 0);
  const wall = corners.reduce((sum, [px, py], index) => {
    const [qx, qy] = corners[(index + 1) % corners.length] ?? [0, 0];
    return sum + levelM * Math.hypot(qx - px, qy - py);
  }, 0);
  const covered = Math.min(1, form.areaM2 / wall);
  corners.forEach((from, index) => {
    const to = corners[(index + 1) % corners.length] ?? from;
    const round = vessel.kind === "ROUND";
    if (round && !inStrip((index + 0.5) / corners.length, form.count, covered)) return;
    const [foot, next] = [feet[index] ?? from, feet[(index + 1) % corners.length] ?? to];
    const at = (share: number, a: readonly [number, number], b: readonly [number, number]) =>
      [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])] as const;
    const [near, far] = round ? [0, 1] : [0.5 - covered / 2, 0.5 + covered / 2];
    const strip = [
      place(...at(near, foot, next), 0),
      place(...at(far, foot, next), 0),
      place(...at(far, from, to), levelM),
      place(...at(near, from, to), levelM),
    ];
    fill(pen, strip, ink, 0.22);
  });
}

/** Whether a share of the way round lies in a strip: each stands in the middle of its part of the wall. */
function inStrip(share: number, strips: number, covered: number): boolean {
  const place = (share + 0.5) * strips;
  return Math.abs(place - Math.floor(place) - 0.5) <= covered / 2;
}

function drawSurface(
  pen: CanvasRenderingContext2D,
  { look, view, cut }: Drawn,
  place: Place,
  anodeInk: string,
): void {
  const { surface, electrodes, grid } = look;
  const { corners, ratio, electrode } = surface;
  const front = -grid.ny * grid.hy * (0.5 - cut);
  const near: { readonly patch: number; readonly depth: number }[] = [];
  for (let patch = 0; patch < ratio.length; patch++) {
    const at = 9 * patch;
    const mean = (axis: number): number =>
      ((corners[at + axis] ?? 0) + (corners[at + 3 + axis] ?? 0) + (corners[at + 6 + axis] ?? 0)) /
      3;
    const [x, y, z] = [mean(0), mean(1), mean(2)];
    if (cut > 0 && y < front) continue;
    near.push({ patch, depth: project(view, x, y, z)[2] });
  }
  near.sort((one, other) => one.depth - other.depth);
  for (const { patch } of near) {
    const at = 9 * patch;
    const points = [0, 3, 6].map((corner) =>
      place(
        corners[at + corner] ?? 0,
        corners[at + corner + 1] ?? 0,
        corners[at + corner + 2] ?? 0,
      ),
    );
    const isPart = electrodes[electrode[patch] ?? 0]?.kind === "PART";
    const value = ratio[patch] ?? Number.NaN;
    const ink = !isPart
      ? anodeInk
      : Number.isNaN(value)
        ? "#8d959b"
        : SHADES[shadeOf(value)]?.colour;
    fill(pen, points, ink ?? anodeInk, 1);
  }
}

type Points = readonly (readonly [number, number])[];

function trace(pen: CanvasRenderingContext2D, points: Points): void {
  pen.beginPath();
  points.forEach(([x, y], index) => {
    if (index === 0) pen.moveTo(x, y);
    else pen.lineTo(x, y);
  });
}

function fill(pen: CanvasRenderingContext2D, points: Points, ink: string, opacity: number): void {
  trace(pen, points);
  pen.closePath();
  pen.globalAlpha = opacity;
  pen.fillStyle = ink;
  pen.fill();
  if (opacity === 1) {
    // Hides the hairline that two neighbours leave between them.
    pen.strokeStyle = ink;
    pen.lineWidth = 1;
    pen.stroke();
  }
  pen.globalAlpha = 1;
}

function line(
  pen: CanvasRenderingContext2D,
  points: Points,
  ink: string,
  width: number,
  closed = true,
): void {
  trace(pen, points);
  if (closed) pen.closePath();
  pen.strokeStyle = ink;
  pen.lineWidth = width;
  pen.stroke();
}

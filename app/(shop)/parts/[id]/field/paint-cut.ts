import type { StreamLines } from "@/lib/field";
import { AXES, type CutLines, metalAlong, valueAt } from "./cut-plane";
import type { CutScene } from "./cut-scene";
import { outlineAt, widest } from "./vessel-outline";

/** Colours of the tank; those of bath and metal are the same by day and by night. */
export type CutInks = { readonly rim: string; readonly level: string };

const METAL = "#33383c";
const ANODE = "#6b747a";
const LINE = "rgb(28 30 32 / 0.8)";
const NEAR = [222, 240, 239] as const;
const FAR = [30, 112, 125] as const;
/** A line is drawn as long as it is nearer the cut than this share of half the tank. */
const NEAR_THE_CUT = 0.12;
/** An equipotential is so much darker than its band. */
const ON_A_LIMIT = 0.62;

/** Tone of a band of the bath, from the first by even steps to the last. @returns red, green, blue, 0 to 255 */
export function bandTone(band: number, bands: number): readonly [number, number, number] {
  const way = bands > 1 ? band / (bands - 1) : 0;
  const at = (channel: 0 | 1 | 2): number =>
    Math.round(NEAR[channel] + way * (FAR[channel] - NEAR[channel]));
  return [at(0), at(1), at(2)];
}

/**
 * Paints a cut to scale.
 *
 * @param edge  dots along the longer side
 * @param toneOf colour of a density over the part's mean, NaN for dry
 */
export function paintCut(
  canvas: HTMLCanvasElement,
  scene: CutScene,
  edge: number,
  toneOf: (ratio: number) => string,
  inks: CutInks,
): void {
  const { left, right, bottom, top } = scene.frame;
  const scale = edge / Math.max(right - left, top - bottom);
  canvas.width = Math.round((right - left) * scale);
  canvas.height = Math.round((top - bottom) * scale);
  const pen = canvas.getContext("2d");
  if (!pen) return;
  const paper = new Paper(pen, scene, scale);
  paper.bath();
  paper.vessel(inks);
  paper.pieces(scene.strips, ANODE, 7);
  paper.metal(scene.inner, ANODE);
  paper.metal(scene.part, METAL);
  paper.rims(toneOf);
  paper.lines(scene.lines);
}

/** Whether a band ends here: another one, and not the end of the bath, is beside it. */
const differs = (band: number, beside = -1): boolean => beside >= 0 && beside !== band;

/** A canvas that is drawn on in metres. */
class Paper {
  private readonly unit: number;

  constructor(
    private readonly pen: CanvasRenderingContext2D,
    private readonly scene: CutScene,
    private readonly scale: number,
  ) {
    /** Widths are given for a picture of a thousand dots. */
    this.unit = Math.max(pen.canvas.width, pen.canvas.height) / 1000;
  }

  private across(right: number): number {
    return (right - this.scene.frame.left) * this.scale;
  }

  private down(up: number): number {
    return (this.scene.frame.top - up) * this.scale;
  }

  /** Bands, and a thin line where one ends. */
  bath(): void {
    const { width, height } = this.pen.canvas;
    const { limits } = this.scene;
    const tones = Array.from({ length: limits.length + 1 }, (_, band) =>
      bandTone(band, limits.length + 1),
    );
    const picture = this.pen.createImageData(width, height);
    let below = new Int16Array(width).fill(-1);
    for (let row = height - 1; row >= 0; row--) {
      const bands = this.bandsOn(row, width);
      bands.forEach((band, column) => {
        const tone = tones[band];
        if (!tone) return;
        const ends = differs(band, bands[column + 1]) || differs(band, below[column]);
        const shade = ends ? ON_A_LIMIT : 1;
        const [r, g, b] = tone;
        picture.data.set([shade * r, shade * g, shade * b, 255], 4 * (column + width * row));
      });
      below = bands;
    }
    this.pen.putImageData(picture, 0, 0);
  }

  /** Band of every dot of a row, −1 where there is no bath. */
  private bandsOn(row: number, width: number): Int16Array<ArrayBuffer> {
    const { frame, axis, bath, field, limits } = this.scene;
    const bands = new Int16Array(width).fill(-1);
    const up = frame.top - (row + 0.5) / this.scale;
    if (axis !== "z" && (up < 0 || up > bath.levelM)) return bands;
    const half = this.halfAt(up);
    if (half <= 0) return bands;
    const last = Math.min(width - 1, Math.floor(this.across(half)));
    for (let column = Math.max(0, Math.ceil(this.across(-half))); column <= last; column++) {
      const value = valueAt(field, frame.left + (column + 0.5) / this.scale, up);
      if (Number.isNaN(value)) continue;
      let band = 0;
      while (band < limits.length && value >= (limits[band] ?? Infinity)) band++;
      bands[column] = band;
    }
    return bands;
  }

  /** The wall, and the level where it is seen from the side. */
  vessel({ rim, level }: CutInks): void {
    const { pen, scene } = this;
    const { vessel, levelM } = scene.bath;
    pen.lineJoin = "round";
    if (scene.axis === "z") {
      this.path(outlineAt(vessel, scene.atM), true);
      this.stroke(rim, 5);
      return;
    }
    const [a, b] = [this.halfAt(0), this.halfAt(vessel.depthM)];
    this.path(
      [
        [-b, vessel.depthM],
        [-a, 0],
        [a, 0],
        [b, vessel.depthM],
      ],
      false,
    );
    this.stroke(rim, 5);
    const half = this.halfAt(levelM);
    this.path(
      [
        [-half, levelM],
        [half, levelM],
      ],
      false,
    );
    this.stroke(level, 4);
  }

  /** Half of the tank's width on this cut, so far up the picture, m; 0 outside. */
  private halfAt(up: number): number {
    const { axis, atM, bath } = this.scene;
    const { vessel } = bath;
    const [z, off] = axis === "z" ? [atM, up] : [up, atM];
    const [cut, right] = axis === "z" ? [1, 0] : AXES[axis];
    const [corner = [0, 0]] = outlineAt(vessel, z);
    const radius = Math.hypot(...corner);
    if (vessel.kind === "ROUND") return Math.sqrt(Math.max(0, radius * radius - off * off));
    return Math.abs(off) <= Math.abs(corner[cut as 0 | 1]) ? Math.abs(corner[right as 0 | 1]) : 0;
  }

  /** Fills metal row by row. */
  metal(lines: CutLines, ink: string): void {
    const { pen, scene } = this;
    pen.fillStyle = ink;
    for (let row = 0; row < pen.canvas.height; row++) {
      const up = scene.frame.top - (row + 0.5) / this.scale;
      for (const [from, to] of metalAlong(lines, up)) {
        pen.fillRect(this.across(from), row, (to - from) * this.scale, 1);
      }
    }
    this.pieces(lines, ink, 2);
  }

  pieces({ ends }: CutLines, ink: string, width: number): void {
    this.pen.lineCap = "round";
    this.pen.beginPath();
    for (let at = 0; at < ends.length; at += 4) {
      this.pen.moveTo(this.across(ends[at] ?? 0), this.down(ends[at + 1] ?? 0));
      this.pen.lineTo(this.across(ends[at + 2] ?? 0), this.down(ends[at + 3] ?? 0));
    }
    this.stroke(ink, width);
  }

  /** The part's outline in the tone of its hours, beside the metal: both sides of a thin wall keep their own. */
  rims(toneOf: (ratio: number) => string): void {
    const { part } = this.scene;
    const byTone = new Map<string, number[]>();
    part.ratio.forEach((ratio, piece) => {
      const tone = toneOf(ratio);
      const pieces = byTone.get(tone) ?? [];
      pieces.push(piece);
      byTone.set(tone, pieces);
    });
    this.pen.lineCap = "butt";
    for (const [width, off] of [
      [9, 5],
      [6, 5],
    ] as const) {
      for (const [tone, pieces] of byTone) {
        this.pen.beginPath();
        for (const piece of pieces) this.aside(part.ends.subarray(4 * piece, 4 * piece + 4), off);
        this.stroke(width === 9 ? METAL : tone, width);
      }
    }
  }

  /** A piece of outline moved off the metal, which lies to its left. */
  private aside([x = 0, y = 0, u = 0, v = 0]: Float32Array, off: number): void {
    const length = Math.hypot(u - x, v - y);
    if (length < 1e-9) return;
    const by = (off * this.unit) / this.scale / length;
    const [dx, dy] = [by * (v - y), -by * (u - x)];
    this.pen.moveTo(this.across(x + dx), this.down(y + dy));
    this.pen.lineTo(this.across(u + dx), this.down(v + dy));
  }

  /** Lines as far as they stay near the cut, and a dot where one leaves it for the anode before or behind. */
  lines({ points, starts }: StreamLines): void {
    const { pen, scene } = this;
    const [cut, right, up] = AXES[scene.axis];
    const near = NEAR_THE_CUT * Math.max(...widest(scene.bath.vessel));
    const leaving: (readonly [number, number])[] = [];
    pen.lineJoin = "round";
    pen.beginPath();
    starts.forEach((start, line) => {
      const end = starts[line + 1] ?? start;
      for (let at = start; at < end; at++) {
        const x = this.across(points[3 * at + right] ?? 0);
        const y = this.down(points[3 * at + up] ?? 0);
        if (at === start) pen.moveTo(x, y);
        else pen.lineTo(x, y);
        if (Math.abs((points[3 * at + cut] ?? 0) - scene.atM) > near) {
          leaving.push([x, y]);
          break;
        }
      }
    });
    this.stroke(LINE, 2);
    pen.fillStyle = LINE;
    for (const [x, y] of leaving) {
      pen.beginPath();
      pen.arc(x, y, 4 * this.unit, 0, 2 * Math.PI);
      pen.fill();
    }
  }

  private path(points: readonly (readonly [number, number])[], closed: boolean): void {
    this.pen.beginPath();
    points.forEach(([right, up], index) => {
      if (index === 0) this.pen.moveTo(this.across(right), this.down(up));
      else this.pen.lineTo(this.across(right), this.down(up));
    });
    if (closed) this.pen.closePath();
  }

  private stroke(ink: string, width: number): void {
    this.pen.strokeStyle = ink;
    this.pen.lineWidth = width * this.unit;
    this.pen.stroke();
  }
}

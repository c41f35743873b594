import {
  AmbientLight,
  BackSide,
  type BufferGeometry,
  CanvasTexture,
  DirectionalLight,
  DoubleSide,
  FrontSide,
  HemisphereLight,
  type Material,
  Mesh,
  MeshBasicMaterial,
  MeshLambertMaterial,
  PerspectiveCamera,
  Plane,
  PlaneGeometry,
  Raycaster,
  Scene,
  SRGBColorSpace,
  Texture,
  Vector2,
  Vector3,
  WebGLRenderer,
} from "three";
import type { Bathful, StreamLines } from "@/lib/field";
import { AXES } from "./cut-plane";
import type { CutScene } from "./cut-scene";
import type { HourSteps } from "./hour-steps";
import { lineGeometry, scaleOf, surfaceParts, tankParts, toneTexture } from "./stage-shapes";
import { widest } from "./vessel-outline";
import { eyeward, type View } from "./view";
import type { FieldPicture } from "./worker-words";

/** Colours of the page. */
export type StageInks = {
  readonly rim: string;
  readonly wall: string;
  readonly liquid: string;
  readonly anode: string;
  readonly line: string;
  readonly dry: string;
};

/** Opening of the camera: narrow, so that a tank keeps its proportions. */
const OPENING_DEGREES = 26;
const MOST_DOTS_A_PIXEL = 2;
/** Of the tank's longest measure. */
const LINE_RADIUS = 0.0016;

/** What is in the picture under one name; putting another in its place frees the old one. */
type Slot = "walls" | "tank" | "surface" | "lines" | "cut";

/** Draws the bath in space: when told that something changed, and never of itself. */
export class Stage {
  private readonly renderer: WebGLRenderer;
  private readonly scene = new Scene();
  private readonly camera = new PerspectiveCamera(OPENING_DEGREES, 1, 0.01, 100);
  private readonly lamp = new DirectionalLight(0xffffff, 1.15);
  private readonly clip = new Plane(new Vector3(0, 1, 0), 0);
  private readonly slots = new Map<Slot, readonly Mesh[]>();
  private readonly middle = new Vector3();
  /** Half of the tank's diagonal from above, and half of its depth, m. */
  private spans = { round: 1, high: 1 };
  private size = 1;
  private cutAxis: { readonly normal: Vector3; readonly atM: number } | null = null;
  private view: View = { turn: 0, tip: 0, zoom: 1 };
  private frame = 0;

  /** @param onLost told when the browser takes the drawing away @throws Error where there is no WebGL */
  constructor(
    private readonly canvas: HTMLCanvasElement,
    private readonly onLost: () => void,
  ) {
    this.renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true });
    this.renderer.localClippingEnabled = true;
    this.camera.up.set(0, 0, 1);
    const sky = new HemisphereLight(0xffffff, 0xb8b2a6, 1.25);
    sky.position.set(0, 0, 1);
    this.scene.add(sky, new AmbientLight(0xffffff, 0.95), this.lamp, this.lamp.target);
    canvas.addEventListener("webglcontextlost", this.lost);
  }

  private readonly lost = (event: Event): void => {
    event.preventDefault();
    this.onLost();
  };

  /** @param width px @param height px @param ratio dots a pixel */
  resize(width: number, height: number, ratio: number): void {
    this.renderer.setPixelRatio(Math.min(MOST_DOTS_A_PIXEL, ratio));
    this.renderer.setSize(width, height, false);
    this.camera.aspect = width / Math.max(1, height);
    this.camera.updateProjectionMatrix();
    this.draw();
  }

  look(view: View): void {
    this.view = view;
    this.draw();
  }

  tank(bath: Bathful, inks: StageInks): void {
    const parts = tankParts(bath);
    const [a, b] = widest(bath.vessel);
    this.size = 2 * Math.max(a, b);
    const round = bath.vessel.kind === "ROUND" ? a : Math.hypot(a, b);
    this.spans = { round, high: bath.vessel.depthM / 2 };
    this.middle.set(0, 0, bath.vessel.depthM / 2);
    const sheer = (color: string, opacity: number, side: typeof FrontSide | typeof BackSide) =>
      new MeshBasicMaterial({ color, opacity, side, transparent: true, depthWrite: false });
    const clipped = [this.clip];
    const solid = (color: string) => new MeshLambertMaterial({ color });
    // The wall faces inwards: its far side is seen from the front, the near one from behind and hardly.
    this.put("walls", [
      mesh(parts.walls, sheer(inks.wall, 0.28, FrontSide), -3),
      mesh(parts.walls, sheer(inks.wall, 0.05, BackSide), 5),
      mesh(parts.strips, sheer(inks.anode, 0.6, FrontSide), -2),
      mesh(parts.strips, sheer(inks.anode, 0.1, BackSide), 6),
    ]);
    const water = new MeshBasicMaterial({
      ...{ color: inks.liquid, opacity: 0.14, side: DoubleSide, transparent: true },
      ...{ depthWrite: false, clippingPlanes: clipped },
    });
    this.put("tank", [
      mesh(parts.rim, solid(inks.rim)),
      mesh(parts.edges, solid(inks.rim)),
      mesh(parts.waterline, solid(inks.line)),
      mesh(parts.water, water, 4),
    ]);
    this.draw();
  }

  surface(
    picture: FieldPicture,
    hours: (ratio: number) => number,
    { limits, tones }: HourSteps,
    inks: StageInks,
  ): void {
    const { wet, dry, inner } = surfaceParts(picture, scaleOf(hours, limits));
    const clippingPlanes = [this.clip];
    const metal = (color: string) =>
      new MeshLambertMaterial({ color, side: DoubleSide, clippingPlanes });
    const map = toneTexture(tones);
    this.put("surface", [
      mesh(wet, new MeshLambertMaterial({ map, side: DoubleSide, clippingPlanes })),
      mesh(dry, metal(inks.dry)),
      mesh(inner, metal(inks.anode)),
    ]);
    this.moveSurface(0, 0);
  }

  /** Shows the part moved on from where it was worked out, m, until that place is worked out too. */
  moveSurface(along: number, across: number): void {
    for (const one of this.slots.get("surface") ?? []) one.position.set(along, across, 0);
    this.draw();
  }

  lines(lines: StreamLines | null, inks: StageInks): void {
    const ink = new MeshLambertMaterial({
      ...{ color: inks.line, clippingPlanes: [this.clip] },
    });
    this.put("lines", lines ? [mesh(lineGeometry(lines, LINE_RADIUS * this.size), ink)] : []);
    this.draw();
  }

  /** Cuts away what lies before a plane, and lays the painted cut on it; null shows all. */
  cut(cut: CutScene | null, painted: HTMLCanvasElement): void {
    this.cutAxis = null;
    this.put("cut", []);
    if (cut) {
      const [across, right, up] = AXES[cut.axis];
      this.cutAxis = { normal: new Vector3().setComponent(across, 1), atM: cut.atM };
      this.put("cut", [cutMesh(cut, painted, across, right, up)]);
    }
    this.draw();
  }

  /** Where a place in the picture, −1 to 1 either way, meets a level plane, m; null beside it. */
  onLevel(x: number, y: number, z: number): readonly [number, number] | null {
    const ray = this.rayAt(x, y);
    const met = ray.ray.intersectPlane(new Plane(new Vector3(0, 0, 1), -z), new Vector3());
    return met ? [met.x, met.y] : null;
  }

  /** Place on the scale of tones that is seen at a place in the picture; null beside the part. */
  scaleAt(x: number, y: number): number | null {
    const [part] = this.slots.get("surface") ?? [];
    if (!part) return null;
    const ray = this.rayAt(x, y);
    const shown = ray
      .intersectObject(part, false)
      .find(({ point }) => !this.cutAxis || this.clip.distanceToPoint(point) >= 0);
    return shown?.uv?.x ?? null;
  }

  private rayAt(x: number, y: number): Raycaster {
    this.aim();
    this.camera.updateMatrixWorld();
    const ray = new Raycaster();
    ray.setFromCamera(new Vector2(x, y), this.camera);
    return ray;
  }

  /** Draws once, before the screen is next shown. */
  private draw(): void {
    if (this.frame !== 0) return;
    this.frame = requestAnimationFrame(() => {
      this.frame = 0;
      this.aim();
      this.renderer.render(this.scene, this.camera);
    });
  }

  private aim(): void {
    const eye = new Vector3(...eyeward(this.view));
    const half = Math.tan((OPENING_DEGREES * Math.PI) / 360);
    const { round, high } = this.spans;
    // However it is turned: as wide as its diagonal, and as high as it is from half-way up.
    const fits = Math.max(round / this.camera.aspect, 0.75 * high + 0.62 * round) / half;
    const away = (fits + 0.35 * round) / this.view.zoom;
    const reach = 1.4 * (round + high);
    this.camera.position.copy(this.middle).addScaledVector(eye, away);
    this.camera.near = Math.max(0.05 * reach, away - reach);
    this.camera.far = away + reach;
    this.camera.updateProjectionMatrix();
    this.camera.lookAt(this.middle);
    // Light from over the left shoulder.
    const left = new Vector3().crossVectors(new Vector3(0, 0, 1), eye).negate();
    this.lamp.position
      .copy(eye)
      .addScaledVector(left, 0.7)
      .add(new Vector3(0, 0, 0.9));
    if (!this.cutAxis) {
      // Far behind everything: cuts nothing.
      this.clip.set(new Vector3(0, 0, 1), 1000);
      return;
    }
    const { normal, atM } = this.cutAxis;
    const side = eye.dot(normal) > 0 ? -1 : 1;
    this.clip.normal.copy(normal).multiplyScalar(side);
    this.clip.constant = -side * atM;
  }

  private put(slot: Slot, meshes: readonly Mesh[]): void {
    for (const old of this.slots.get(slot) ?? []) {
      this.scene.remove(old);
      free(old);
    }
    this.slots.set(slot, meshes);
    // Given nothing, three.js complains.
    if (meshes.length > 0) this.scene.add(...meshes);
  }

  dispose(): void {
    cancelAnimationFrame(this.frame);
    this.canvas.removeEventListener("webglcontextlost", this.lost);
    for (const slot of this.slots.keys()) this.put(slot, []);
    this.renderer.dispose();
  }
}

function mesh(geometry: BufferGeometry, material: Material, order = 0): Mesh {
  const made = new Mesh(geometry, material);
  made.renderOrder = order;
  return made;
}

function free({ geometry, material }: Mesh): void {
  geometry.dispose();
  for (const one of Array.isArray(material) ? material : [material]) {
    if ("map" in one && one.map instanceof Texture) one.map.dispose();
    one.dispose();
  }
}

/** The painted cut as a sheet in its place. */
function cutMesh(
  { frame, atM }: CutScene,
  painted: HTMLCanvasElement,
  across: number,
  right: number,
  up: number,
): Mesh {
  const geometry = new PlaneGeometry(1, 1);
  const corners = geometry.getAttribute("position");
  for (let corner = 0; corner < 4; corner++) {
    const [u, v] = [corners.getX(corner) + 0.5, corners.getY(corner) + 0.5];
    corners.setComponent(corner, across, atM);
    corners.setComponent(corner, right, frame.left + u * (frame.right - frame.left));
    corners.setComponent(corner, up, frame.bottom + v * (frame.top - frame.bottom));
  }
  const map = new CanvasTexture(painted);
  map.colorSpace = SRGBColorSpace;
  map.anisotropy = 4;
  const material = new MeshBasicMaterial({
    map,
    side: DoubleSide,
    transparent: true,
    alphaTest: 0.5,
  });
  return mesh(geometry, material, 1);
}

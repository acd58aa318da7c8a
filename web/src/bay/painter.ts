/** Paints the bay, and only when something has changed: coarse while a hand moves it, fine when it rests. */
import { ColorManagement, Group, LinearSRGBColorSpace, OrthographicCamera, Scene, Vector3, WebGLRenderer, type Points } from "three";
import { corners, flat, rightOf, type Size, type View } from "./camera";
import { dealt } from "./cloud";
import type { Bay, P3 } from "./form";
import { colours, forget, INKS, shared, type Mode } from "./ink";
import { under, cloudUnder, isSeen, type Hit, type Ray } from "./picking";
import { Pace, type Haste } from "./pace";
import { build, caps, cloud, disposeAll, dress, WATER, type Stage, type Wish } from "./scene";
import type { Plane } from "./section";
import { showsWater } from "./waterline";
import { add, dot, far, less, times } from "./space";

/** A point of the scan takes so much room that those behind are still told apart [px²]. */
const AIR = 34;

/** How many points of a scan are drawn before they run together; of those off the picture the same share. */
function roomFor(bay: Bay, view: View, size: Size): number {
  const spots = corners(bay).map((point) => flat(view, size, point));
  const span = (values: number[]) => Math.max(1, Math.max(...values) - Math.min(...values));
  return Math.ceil((span(spots.map((spot) => spot.x)) * span(spots.map((spot) => spot.y))) / AIR);
}

/** Most pixels of the screen that are painted for one of the page. */
const MOST_FINE = 3;

/** How fine the picture is at rest: twice the screen's own pixels where that is not too many, so that lines are smooth. */
const fineness = (own: number): number => (2 * own <= MOST_FINE ? 2 * own : Math.min(own, MOST_FINE));

ColorManagement.enabled = false;

export class Painter {
  private readonly renderer: WebGLRenderer;
  private readonly scene = new Scene();
  private readonly camera = new OrthographicCamera();
  private readonly caps = new Group();
  private stage: Stage | null = null;
  private points: Points | null = null;
  private spots: Float32Array | null = null;
  private bay: Bay | null = null;
  private plane: Plane | null = null;
  private cutKey = "";
  private scan = true;
  private view: View | null = null;
  private size: Size = { width: 1, height: 1 };
  private frame = 0;
  private rest: ReturnType<typeof setTimeout> | undefined;
  private moving = false;
  private count = 0;
  private sized = "";
  private dressed = "";
  private readonly pace: Pace;
  private readonly heard = new AbortController();

  /** Throws where the browser draws nothing in space; `lost` is told when it takes the drawing away, and when it gives it back. */
  constructor(
    private readonly canvas: HTMLCanvasElement,
    lost: (gone: boolean) => void,
  ) {
    const context = canvas.getContext("webgl2", { antialias: false, stencil: true, alpha: false, depth: true });
    if (!context) {
      throw new Error("no drawing in space");
    }
    this.renderer = new WebGLRenderer({ canvas, context, antialias: false, stencil: true, alpha: false });
    this.renderer.outputColorSpace = LinearSRGBColorSpace;
    this.renderer.info.autoReset = true;
    this.scene.add(this.caps);
    this.scene.matrixAutoUpdate = false;
    this.pace = new Pace(context);
    const { signal } = this.heard;
    canvas.addEventListener("webglcontextlost", () => lost(true), { signal });
    canvas.addEventListener("webglcontextrestored", () => (lost(false), this.pace.forget(), this.soon(false)), { signal });
  }

  /** Lays out what is drawn: the bay as it stands, and at rest. */
  show(bay: Bay, rest: Bay, wish: Wish): void {
    if (this.stage) {
      this.scene.remove(this.stage.root);
      this.stage.dispose();
    }
    this.bay = bay;
    this.stage = build(bay, rest, wish);
    this.dressed = "";
    this.scan = wish.scan;
    this.scene.add(this.stage.root);
    this.cutKey = "";
    this.soon(false);
  }

  /** The scan's points [m]; null where there is none. */
  cloud(points: Float32Array | null): void {
    if (this.points) {
      this.scene.remove(this.points);
      disposeAll(this.points);
      this.points = null;
    }
    this.spots = points && points.length > 0 ? dealt(points) : null;
    if (this.spots) {
      this.points = cloud(this.spots);
      this.dressed = "";
      this.scene.add(this.points);
    }
    this.soon(false);
  }

  /** Colours of the sheet as they are now. */
  colours(of: (name: string) => string): void {
    for (const name of INKS) {
      colours[name].value.set(of(name));
      if (name !== "sheet") {
        // Sums of shares may round levels up; by red light none is to spare.
        colours[name].value.multiplyScalar(0.96);
      }
    }
    this.renderer.setClearColor(colours.sheet.value, 1);
    this.soon(false);
  }

  look(view: View, size: Size, plane: Plane | null, moving: boolean): void {
    this.view = view;
    this.size = size;
    this.plane = plane;
    this.soon(moving);
  }

  /** The picture of this moment, in the colours of paper. */
  paper(): string {
    const old = INKS.map((name) => colours[name].value.getHex());
    for (const name of INKS) {
      colours[name].value.set(name === "sheet" ? "#ffffff" : "#000000");
    }
    this.renderer.setClearColor(colours.sheet.value, 1);
    this.draw({ ratio: fineness(window.devicePixelRatio), fine: true });
    const out = this.canvas.toDataURL("image/png");
    INKS.forEach((name, at) => colours[name].value.set(old[at] ?? 0));
    this.renderer.setClearColor(colours.sheet.value, 1);
    this.draw(this.still());
    return out;
  }

  /** What lies under a spot of the picture [px]. */
  pick(x: number, y: number): Hit | null {
    if (!this.view || !this.stage) {
      return null;
    }
    const ray = this.rayAt(x, y);
    const body = under(this.stage.targets, ray, this.plane);
    const spot = this.spots && this.scan ? cloudUnder(this.spots, ray, 5 / this.view.scale, this.plane) : null;
    return spot && spot.far < (body?.far ?? Infinity) - 0.004 ? spot : body;
  }

  /** Whether nothing stands before a place. */
  seen(at: P3, own: string | null): boolean {
    if (!this.view || !this.stage) {
      return true;
    }
    const here = flat(this.view, this.size, at);
    return isSeen(at, this.rayAt(here.x, here.y), this.stage.targets, own, this.plane, 0.004);
  }

  dispose(): void {
    this.heard.abort();
    this.pace.forget();
    cancelAnimationFrame(this.frame);
    clearTimeout(this.rest);
    if (this.stage) {
      this.stage.dispose();
    }
    disposeAll(this.caps);
    if (this.points) {
      disposeAll(this.points);
    }
    forget();
    this.renderer.dispose();
    this.renderer.forceContextLoss();
  }

  private rayAt(x: number, y: number): Ray {
    const view = this.view;
    if (!view) {
      return { from: [0, 0, 0], way: [0, 0, -1] };
    }
    const right = times(rightOf(view), (x - this.size.width / 2) / view.scale);
    const up = times(view.up, (this.size.height / 2 - y) / view.scale);
    return { from: add(add(add(view.centre, right), up), times(view.way, this.before() - this.depth())), way: view.way };
  }

  /** How far before the middle of the picture the eye stands: all there is lies behind it. */
  private depth(): number {
    const { bay, view } = this;
    if (!bay || !view) {
      return 10;
    }
    return far(bay.low, bay.high) + far(view.centre, times(add(bay.low, bay.high), 0.5)) + 1;
  }

  /** How far before the eye that begins which stands within the bay. */
  private before(): number {
    const { view } = this;
    return view?.eye ? Math.max(0, this.depth() + dot(less(view.eye, view.centre), view.way)) : 0;
  }

  private soon(moving: boolean): void {
    this.moving = moving;
    clearTimeout(this.rest);
    this.frame ||= requestAnimationFrame(() => {
      this.frame = 0;
      const coarse = this.moving;
      this.draw(coarse ? this.pace.haste() : this.still());
      this.pace.drawn(coarse);
      if (coarse) {
        // A hand that holds still has the fine picture soon; one that lets go at once.
        this.rest = setTimeout(() => this.soon(false), this.pace.rest());
      }
    });
  }

  /** How the picture is painted that rests. */
  private still(): Haste {
    return { ratio: this.pace.slow() ? 1 : fineness(window.devicePixelRatio), fine: true };
  }

  private draw(haste: Haste): void {
    const coarse = this.moving;
    const { view, size, bay } = this;
    if (!view || !bay || size.width < 2 || size.height < 2) {
      return;
    }
    const { ratio } = haste;
    const sized = `${size.width} ${size.height} ${ratio}`;
    if (sized !== this.sized) {
      this.sized = sized;
      this.renderer.setPixelRatio(ratio);
      this.renderer.setSize(size.width, size.height, false);
    }
    const depth = this.depth();
    const near = this.before();
    const [w, h] = [size.width / view.scale / 2, size.height / view.scale / 2];
    Object.assign(this.camera, { left: -w, right: w, top: h, bottom: -h, near, far: 2 * depth });
    this.camera.up.set(...view.up);
    this.camera.position.set(...add(view.centre, times(view.way, -depth)));
    this.camera.lookAt(new Vector3(...view.centre));
    this.camera.updateProjectionMatrix();
    this.camera.updateMatrixWorld();
    const origin = flat(view, size, times(add(bay.low, bay.high), 0.5));
    shared.uScale.value = view.scale;
    shared.uRatio.value = ratio;
    shared.uField.value.set(size.width, size.height);
    shared.uOrigin.value.set(origin.x, size.height - origin.y);
    shared.uDeep.value = 2 / (2 * depth - near);
    const plane = this.plane;
    shared.uPlane.value.set(...(plane?.normal ?? [0, 0, 0]), plane?.at ?? 1e9);
    this.cut(plane);
    if (this.stage) {
      const water = this.stage.root.getObjectByName(WATER);
      if (water) {
        water.visible = showsWater(view);
      }
      this.stage.fine.visible = haste.fine;
    }
    if (this.points) {
      this.points.visible = this.scan;
      const all = this.points.geometry.getAttribute("position").count;
      const most = Math.min(all, roomFor(bay, view, size));
      this.points.geometry.setDrawRange(0, coarse ? Math.ceil(most / 2) : most);
    }
    const mode: Mode = { cut: plane !== null, hollow: plane !== null || view.eye !== undefined };
    const dressed = `${mode.cut} ${mode.hollow} ${this.cutKey}`;
    if (dressed !== this.dressed) {
      this.dressed = dressed;
      dress(this.scene, mode);
    }
    this.renderer.render(this.scene, this.camera);
    this.count += 1;
    this.canvas.dataset["calls"] = String(this.renderer.info.render.calls);
    this.canvas.dataset["drawn"] = String(this.count);
    this.canvas.dataset["fine"] = coarse ? "no" : "yes";
    this.canvas.toggleAttribute("data-hasty", !haste.fine);
  }

  private cut(plane: Plane | null): void {
    const key = plane ? `${plane.normal.join(" ")} ${plane.at}` : "none";
    if (key === this.cutKey) {
      return;
    }
    this.cutKey = key;
    disposeAll(this.caps);
    this.caps.clear();
    if (plane && this.stage) {
      this.caps.add(caps(this.stage.closed, plane));
    }
  }
}

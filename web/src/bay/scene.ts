/** The bay as bodies and lines of ink: what of it is drawn, and how. What looks alike is one thing to the graphics. */
import { BufferAttribute, BufferGeometry, Group, Mesh, Points, type Object3D } from "three";
import type { Bay, BayClip, BayRun, P3 } from "./form";
import { gradeOf } from "./form";
import { DASH, geometryOf, materialOf, rim, stretches, type FaceLook, type Fill, type LineLook, type Look, type Mode } from "./ink";
import { edgesOf, inked, solidOf, type Inked } from "./mesh";
import { ballOf, type Target } from "./picking";
import type { Engine } from "./pose";
import { cutOf, type Plane } from "./section";
import { add, cross, dot, less, square, times, unit } from "./space";
import { bendArc, block, layLine, ring, sparse, tube, wedge, type Solid } from "./tube";
import { waterline } from "./waterline";

export interface Wish {
  /** Mark that is chosen. */
  chosen: string | null;
  engine: Engine;
  keepOuts: boolean;
  drivers: boolean;
  scan: boolean;
}

/** A closed body that can be cut. */
interface Closed {
  mesh: Inked;
  key: string | null;
  /** Which way its cut is hatched. */
  other: boolean;
}

export interface Stage {
  root: Group;
  /** What a picture that must come fast does without: keep-outs, drivers, what is hidden. */
  fine: Group;
  /** What can be picked. */
  targets: Target[];
  closed: Closed[];
  dispose: () => void;
}

const ORDER = { faces: 0, rims: 1, lines: 2, caps: 3, points: 40, veils: 50, outlines: 60, hidden: 200, over: 210 } as const;

/** The trace of the still water, by its name in the scene. */
export const WATER = "water";

const FILLS: Record<string, Fill> = { sound: "plain", marginal: "single", unsound: "crossed", unmeasured: "dots" };

/** Bodies are the same while the answer is: their points are joined once. */
const had = new WeakMap<object, Inked>();

function once(of: object, make: () => Solid): Inked {
  let one = had.get(of);
  if (!one) {
    one = inked(make());
    had.set(of, one);
  }
  return one;
}

const middleOf = (mesh: Inked): P3 => ballOf(mesh).at;

/** Gathers what looks alike. */
class Gathered {
  private readonly faces = new Map<string, { look: FaceLook; order: number; all: Inked[] }>();
  private readonly lines = new Map<string, { look: LineLook; order: number; all: (readonly P3[])[] }>();

  face(mesh: Inked, look: FaceLook, order: number): void {
    gather(this.faces, look, order).push(mesh);
  }

  line(all: readonly (readonly P3[])[], look: LineLook): void {
    gather(this.lines, look, look.over ? ORDER.over : look.hidden ? ORDER.hidden : ORDER.lines).push(...all);
  }

  /** Lays down all of it; what is fine goes by itself. */
  lay(root: Group, fine: Group): void {
    for (const { look, order, all } of this.faces.values()) {
      const geometry = geometryOf(all, look.fill === "dashed" ? middleOf : undefined);
      put(order < ORDER.veils ? root : fine, new Mesh(geometry), look, order);
    }
    for (const { look, order, all } of this.lines.values()) {
      put(look.hidden ? fine : root, new Mesh(stretches(all)), look, order);
    }
  }
}

function gather<L, T>(into: Map<string, { look: L; order: number; all: T[] }>, look: L, order: number): T[] {
  const name = `${order} ${JSON.stringify(look)}`;
  const one = into.get(name) ?? { look, order, all: [] };
  into.set(name, one);
  return one.all;
}

function put<T extends Mesh | Points>(into: Group, one: T, look: Look, order: number): T {
  one.renderOrder = order;
  one.matrixAutoUpdate = false;
  one.frustumCulled = false;
  one.userData["look"] = look;
  into.add(one);
  return one;
}

/** Gives each part of the scene the material of its look. */
export function dress(root: Object3D, mode: Mode): void {
  root.traverse((one) => {
    const look = one.userData["look"] as Look | undefined;
    if (look) {
      (one as Mesh).material = materialOf(look, mode);
    }
  });
}

/** Lays out the bay as it stands; `rest` is the same with the engine at rest. */
export function build(bay: Bay, rest: Bay, wish: Wish): Stage {
  const root = new Group();
  const fine = new Group();
  const gathered = new Gathered();
  const targets: Target[] = [];
  const closed: Closed[] = [];
  const solid = (mesh: Inked, key: string | null, look: { fill?: Fill; rim: number; lead?: boolean; other?: boolean }) => {
    gathered.face(mesh, { colour: look.fill && look.fill !== "plain" ? "ink" : "sheet", fill: look.fill ?? "plain" }, ORDER.faces);
    // What is unmeasured has a dashed edge, as everywhere on the sheet.
    gathered.face(mesh, look.fill === "dots" ? { ...rim(look.rim), fill: "dashed", round: 0.02 } : rim(look.rim), ORDER.rims);
    if (look.lead) {
      gathered.face(mesh, rim(look.rim + 2, "lead"), ORDER.rims);
    }
    targets.push({ key, mesh, ball: ballOf(mesh) });
    closed.push({ mesh, key, other: look.other ?? false });
  };
  const draw = (all: readonly (readonly P3[])[], look: LineLook) => gathered.line(all, look);

  let outline = ORDER.outlines as number;
  let ref = 1;
  /** Round a body at a distance: dashes at its edge alone. */
  const dashed = (mesh: Inked, out: number, round = out) => {
    gathered.face(mesh, { out, pass: "mark", ref }, outline);
    gathered.face(mesh, { colour: "ink", fill: "dashed", out, outPx: 1.4, round, pass: "edge", ref }, outline + 0.5);
    outline += 1;
    ref = (ref % 254) + 1;
  };

  bay.bodies.forEach((body, at) => {
    const mesh = once(body, () => solidOf(body.faces));
    solid(mesh, null, { rim: 0.6, other: at % 2 === 1 });
    draw(edgesOf(body.faces), { wide: 1 });
    if (bay !== rest && body.frame === "engine" && bay.moves) {
      const back = times(bay.moves, wish.engine === "up" ? -2 : 2);
      draw(edgesOf(body.faces).map(([a, b]) => [add(a, back), add(b, back)]), { wide: 1, colour: "soft", dash: DASH.assumed });
    }
    if (wish.keepOuts && body.nature !== "solid") {
      gathered.face(mesh, { colour: "line", fill: "veil", sides: "near", out: Math.max(body.keep, 0.001) }, ORDER.veils);
      if (body.keep > 0) {
        dashed(mesh, body.keep);
      }
    }
  });

  bay.runs.forEach((run, at) => run_(run, at));
  function run_(run: BayRun, at: number): void {
    const joint = bay.clips.find((clip) => clip.mark === wish.chosen)?.joint;
    const chosen = run.mark === wish.chosen || (joint?.startsWith(`${run.run}.`) ?? false);
    const grade = gradeOf(run.grade);
    for (const part of run.parts) {
      const line = sparse(part.line);
      const mesh = once(part, () => tube(line, part.radius));
      const fill = part.kind === "hose" && grade ? FILLS[grade] : undefined;
      solid(mesh, run.run, { ...(fill ? { fill } : {}), rim: chosen ? 3 : 1.6, lead: grade === "unsound", other: at % 2 === 0 });
      const [a, b, y, z] = [line[0], line[1], line.at(-2), line.at(-1)];
      if (a && b && y && z) {
        draw([ring(a, unit(less(b, a)), part.radius * 1.004), ring(z, unit(less(z, y)), part.radius * 1.004)], { wide: 1.2 });
      }
      if (part.kind === "hose") {
        draw([layLine(line, part.radius * 1.01)], { wide: 1.2, dash: DASH.chain });
      }
      draw([line], { wide: chosen ? 1.5 : 1, colour: chosen ? "ink" : "line", dash: DASH.hidden, hidden: true, near: part.radius * 1.6 });
    }
    const other = wish.engine === "up" ? run.down : wish.engine === "down" ? run.up : null;
    if (other) {
      draw([other], { wide: 1.5, dash: DASH.assumed, over: true });
    }
    if (run.bend && (chosen || grade !== "sound")) {
      const all = run.parts.flatMap((part) => part.line);
      const way = wayAt(all, run.bend.at);
      draw([bendArc(run.bend.at, run.bend.centre, way), [run.bend.centre, run.bend.at]], { wide: 1, over: true, cut: false });
    }
  }

  for (const clip of bay.clips) {
    band(clip);
  }
  function band(clip: BayClip): void {
    const chosen = clip.mark === wish.chosen;
    const half = 0.0055;
    const axis = unit(clip.axis);
    const mesh = once(clip, () => tube([add(clip.at, times(axis, -half)), add(clip.at, times(axis, half))], clip.radius + 0.0012, 28));
    solid(mesh, clip.joint, { rim: chosen ? 3 : 1.4, lead: gradeOf(clip.grade) === "unsound" });
    draw([-half, half].map((off) => ring(add(clip.at, times(axis, off)), axis, clip.radius + 0.0013)), { wide: chosen ? 1.5 : 1 });
    if (clip.screw) {
      const out = unit(square(less(clip.screw, clip.at), axis), unit(clip.noon));
      const across = cross(axis, out);
      const centre = add(clip.at, times(out, clip.radius + 0.005));
      const housing = block(centre, [0.0085, 0.005, 0.0065], [across, out, axis]);
      solid(once(clip.screw, () => housing), clip.joint, { rim: chosen ? 2 : 1 });
      draw(housing.edges, { wide: chosen ? 1.5 : 1 });
      // The screw's slot, on the side from which the driver comes.
      const side = dot(less(clip.screw, centre), across) < 0 ? -1 : 1;
      const head = add(centre, times(across, side * 0.0085));
      draw([ring(add(head, times(across, side * 0.002)), across, 0.0035, 16), ring(head, across, 0.0035, 16)], { wide: 1 });
    }
    if (wish.drivers && (chosen || wish.chosen === null || isOf(clip, wish.chosen))) {
      for (const part of clip.way) {
        dashed(once(part, () => tube(part.points, part.radius, 16)), 0, part.radius);
      }
      if (chosen) {
        const reach = clip.radius + Math.max(0.05, clip.radius * 1.4);
        for (const arc of clip.free) {
          // Its hours are those of who looks at the spigot's open end: against the axis.
          const { solid: fan, outline: edge } = wedge(clip.at, times(axis, -1), unit(clip.noon), clip.radius + 0.012, reach, arc.from, arc.to);
          gathered.face(inked(fan), { colour: "soft", fill: "veil", sides: "both" }, ORDER.veils);
          draw([edge], { wide: 1 });
        }
      }
    }
  }
  function isOf(clip: BayClip, mark: string): boolean {
    return bay.runs.some((run) => run.mark === mark && clip.joint.startsWith(`${run.run}.`));
  }

  if (bay.hatch) {
    const first = bay.hatch.corners[0];
    draw([first ? [...bay.hatch.corners, first] : []], { wide: 1, colour: "soft", dash: DASH.before, cut: false });
  }
  gathered.lay(root, fine);
  const water = put(root, new Mesh(stretches([waterline(bay)])), { wide: 1.5, cut: false }, ORDER.lines);
  water.name = WATER;
  root.add(fine);
  return { root, fine, targets, closed, dispose: () => disposeAll(root) };
}

/** The way of a line where it passes a spot. */
function wayAt(line: readonly P3[], at: P3): P3 {
  let best = Infinity;
  let way: P3 = [1, 0, 0];
  for (let i = 1; i < line.length; i += 1) {
    const [a, b] = [line[i - 1], line[i]];
    if (a && b) {
      const off = Math.hypot(...less(times(add(a, b), 0.5), at));
      if (off < best && Math.hypot(...less(b, a)) > 1e-6) {
        best = off;
        way = unit(less(b, a));
      }
    }
  }
  return way;
}

/** The cut faces of all bodies, hatched, with a line round each. */
export function caps(closed: readonly Closed[], plane: Plane): Group {
  const root = new Group();
  let order = ORDER.caps as number;
  for (const { mesh, other } of closed) {
    const { closed: loops, open } = cutOf(mesh, plane);
    if (loops.length + open.length > 0) {
      const ringed = [...loops.map((loop) => [...loop, ...loop.slice(0, 1)]), ...open];
      put(root, new Mesh(stretches(ringed)), { wide: 2, cut: false }, ORDER.lines);
    }
    if (loops.length === 0) {
      continue;
    }
    const [fan, field] = fans(loops, plane);
    put(root, new Mesh(fan), { cut: false, sides: "both", pass: "count" }, order);
    put(root, new Mesh(field), { colour: "ink", fill: other ? "other" : "single", cut: false, sides: "both", pass: "hatch" }, order + 0.01);
    order += 0.02;
  }
  return root;
}

/** Triangles from one point to every side of every loop: what is covered an odd number of times lies inside. */
function fans(loops: readonly (readonly P3[])[], plane: Plane): [BufferGeometry, BufferGeometry] {
  const all = loops.flat();
  const origin = all[0] ?? [0, 0, 0];
  const at: number[] = [];
  for (const loop of loops) {
    loop.forEach((point, i) => at.push(...origin, ...point, ...(loop[(i + 1) % loop.length] ?? point)));
  }
  const side = unit(square(Math.abs(plane.normal[2]) > 0.9 ? [1, 0, 0] : [0, 0, 1], plane.normal));
  const across = cross(plane.normal, side);
  const reach = (d: P3): [number, number] => all.reduce<[number, number]>(([l, h], p) => [Math.min(l, dot(p, d)), Math.max(h, dot(p, d))], [Infinity, -Infinity]);
  const [[a0, a1], [b0, b1]] = [reach(side), reach(across)];
  const corner = (a: number, b: number): P3 => add(add(times(side, a), times(across, b)), times(plane.normal, plane.at));
  const quad = [corner(a0, b0), corner(a1, b0), corner(a1, b1), corner(a0, b0), corner(a1, b1), corner(a0, b1)].flat();
  return [bare(at), bare(quad)];
}

function bare(at: readonly number[]): BufferGeometry {
  const out = new BufferGeometry();
  out.setAttribute("position", new BufferAttribute(new Float32Array(at), 3));
  out.setAttribute("grow", new BufferAttribute(new Float32Array(at.length), 3));
  return out;
}

/** The scan as points. */
export function cloud(points: Float32Array): Points {
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(points, 3));
  return put(new Group(), new Points(geometry), "points", ORDER.points);
}

/** Gives back what the graphics hold of the shapes of a part of the scene; materials are kept. */
export function disposeAll(root: Object3D): void {
  root.traverse((one) => (one as Partial<Mesh>).geometry?.dispose());
}

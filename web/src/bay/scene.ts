/** The bay as bodies and lines of ink: what of it is drawn, and how. */
import { AlwaysStencilFunc, BufferAttribute, BufferGeometry, Group, Mesh, NotEqualStencilFunc, Points, ReplaceStencilOp, ZeroStencilOp, InvertStencilOp, type Material, type Object3D, type ShaderMaterial } from "three";
import type { Bay, BayBody, BayClip, BayRun, P3 } from "./form";
import { gradeOf } from "./form";
import { BackSide, DASH, FrontSide, dots, face, geometryOf, lines, rim, type Fill, type LineLook } from "./ink";
import { edgesOf, inked, solidOf, type Inked } from "./mesh";
import { ballOf, type Target } from "./picking";
import { cutOf, type Plane } from "./section";
import { add, cross, dot, less, placeOn, square, times, unit } from "./space";
import { bendArc, block, layLine, ring, tube, wedge, type Solid } from "./tube";
import { waterline } from "./waterline";

export type Engine = "rest" | "up" | "down";

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
const had = new WeakMap<BayBody, Inked>();

function inkedBody(body: BayBody): Inked {
  const old = had.get(body);
  if (old) {
    return old;
  }
  const made = inked(solidOf(body.faces));
  had.set(body, made);
  return made;
}

const movedBy = (mesh: Inked, by: P3): Inked => {
  const at = new Float32Array(mesh.at.length);
  for (let i = 0; i < at.length; i += 1) {
    at[i] = (mesh.at[i] ?? 0) + (by[i % 3] ?? 0);
  }
  return { ...mesh, at };
};

export function build(bay: Bay, wish: Wish): Stage {
  const root = new Group();
  const targets: Target[] = [];
  const closed: Closed[] = [];
  const put = (one: Object3D, order: number) => {
    one.renderOrder = order;
    one.matrixAutoUpdate = false;
    root.add(one);
  };
  const solid = (mesh: Inked, key: string | null, look: { fill?: Fill; rim: number; lead?: boolean; other?: boolean }) => {
    const geometry = geometryOf(mesh);
    put(new Mesh(geometry, face({ colour: look.fill && look.fill !== "plain" ? "ink" : "sheet", fill: look.fill ?? "plain" })), ORDER.faces);
    // What is unmeasured has a dashed edge, as everywhere on the sheet.
    const edge = look.fill === "dots" ? face({ colour: "ink", fill: "dashed", side: BackSide, outPx: look.rim, round: 0.02 }) : rim(look.rim);
    edge.userData["middle"] = ballOf(mesh).at;
    put(new Mesh(geometry, edge), ORDER.rims);
    if (look.lead) {
      put(new Mesh(geometry, rim(look.rim + 2, "lead")), ORDER.rims);
    }
    targets.push({ key, mesh, ball: ballOf(mesh) });
    closed.push({ mesh, key, other: look.other ?? false });
  };
  const draw = (all: readonly (readonly P3[])[], look: LineLook) => {
    if (all.length > 0) {
      put(lines(all, look), look.over ? ORDER.over : look.hidden ? ORDER.hidden : ORDER.lines);
    }
  };

  const lift: P3 = bay.moves === null || wish.engine === "rest" ? [0, 0, 0] : times(bay.moves, wish.engine === "up" ? 1 : -1);
  let outline = ORDER.outlines as number;
  let ref = 1;
  /** Round a body at a distance: dashes at its edge alone. */
  const dashed = (mesh: Inked, out: number, round = out) => {
    const geometry = geometryOf(mesh);
    const fill = face({ out, cut: true });
    Object.assign(fill, { colorWrite: false, depthWrite: false, depthTest: false, stencilWrite: true, stencilRef: ref, stencilFunc: AlwaysStencilFunc, stencilZPass: ReplaceStencilOp });
    const edge = face({ colour: "ink", fill: "dashed", out, outPx: 1.4, round });
    const middle = ballOf(mesh).at;
    edge.userData["middle"] = middle;
    Object.assign(edge, { depthWrite: false, stencilWrite: true, stencilRef: ref, stencilFunc: NotEqualStencilFunc });
    put(new Mesh(geometry, fill), outline);
    put(new Mesh(geometry, edge), outline + 0.5);
    outline += 1;
    ref = (ref % 254) + 1;
  };

  bay.bodies.forEach((body, at) => {
    const rests = inkedBody(body);
    const moves = body.frame === "engine" && Math.hypot(...lift) > 0;
    const mesh = moves ? movedBy(rests, lift) : rests;
    solid(mesh, null, { rim: 0.6, other: at % 2 === 1 });
    const edges = edgesOf(body.faces);
    draw(moves ? edges.map(([a, b]) => [add(a, lift), add(b, lift)]) : edges, { wide: 1 });
    if (moves) {
      draw(edges.map(([a, b]) => [add(a, times(lift, -1)), add(b, times(lift, -1))]), { wide: 1, colour: "soft", dash: DASH.assumed });
    }
    if (wish.keepOuts && body.nature !== "solid") {
      const veil = face({ colour: "line", fill: "veil", side: FrontSide, out: Math.max(body.keep, 0.001) });
      put(new Mesh(geometryOf(mesh), veil), ORDER.veils);
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
    const line = wish.engine === "up" ? run.up : wish.engine === "down" ? run.down : null;
    const other = wish.engine === "up" ? run.down : wish.engine === "down" ? run.up : null;
    const hose = run.parts.find((part) => part.kind === "hose") ?? run.parts[0];
    const parts = line && hose ? [{ ...hose, line }] : run.parts;
    for (const part of parts) {
      const mesh = inked(tube(part.line, part.radius));
      const fill = part.kind === "hose" && grade ? FILLS[grade] : undefined;
      solid(mesh, run.run, { ...(fill ? { fill } : {}), rim: chosen ? 3 : 1.6, lead: grade === "unsound", other: at % 2 === 0 });
      const ends = [part.line[0], part.line[part.line.length - 1]];
      ends.forEach((end, k) => {
        const way = placeOn(part.line, k)?.way;
        if (end && way) {
          draw([ring(end, way, part.radius * 1.004)], { wide: 1.2 });
        }
      });
      if (part.kind === "hose") {
        draw([layLine(part.line, part.radius * 1.01)], { wide: 1.2, dash: DASH.chain });
      }
      draw([part.line], { wide: chosen ? 1.5 : 1, colour: chosen ? "ink" : "line", dash: DASH.hidden, hidden: true, near: part.radius * 1.6 });
    }
    if (other) {
      draw([other], { wide: 1.5, dash: DASH.assumed, over: true });
    }
    if (run.bend && (chosen || grade !== "sound")) {
      const all = parts.flatMap((part) => part.line);
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
    const mesh = inked(tube([add(clip.at, times(axis, -half)), add(clip.at, times(axis, half))], clip.radius + 0.0012, 28));
    solid(mesh, clip.joint, { rim: chosen ? 3 : 1.4, lead: gradeOf(clip.grade) === "unsound" });
    draw([-half, half].map((off) => ring(add(clip.at, times(axis, off)), axis, clip.radius + 0.0013)), { wide: chosen ? 1.5 : 1 });
    if (clip.screw) {
      const out = unit(square(less(clip.screw, clip.at), axis), unit(clip.noon));
      const across = cross(axis, out);
      const centre = add(clip.at, times(out, clip.radius + 0.005));
      const housing = block(centre, [0.0085, 0.005, 0.0065], [across, out, axis]);
      solid(inked(housing), clip.joint, { rim: chosen ? 2 : 1 });
      draw(housing.edges, { wide: chosen ? 1.5 : 1 });
      // The screw's slot, on the side from which the driver comes.
      const side = dot(less(clip.screw, centre), across) < 0 ? -1 : 1;
      const head = add(centre, times(across, side * 0.0085));
      draw([ring(add(head, times(across, side * 0.002)), across, 0.0035, 16), ring(head, across, 0.0035, 16)], { wide: 1 });
    }
    if (wish.drivers && (chosen || wish.chosen === null || isOf(clip, wish.chosen))) {
      for (const part of clip.way) {
        dashed(inked(tube(part.points, part.radius, 16)), 0, part.radius);
      }
      if (chosen) {
        const reach = clip.radius + Math.max(0.05, clip.radius * 1.4);
        for (const arc of clip.free) {
          const { solid: fan, outline: edge } = wedge(clip.at, axis, unit(clip.noon), clip.radius + 0.012, reach, arc.from, arc.to);
          const veil = face({ colour: "soft", fill: "veil", cut: true });
              put(new Mesh(geometryOf(inked(fan)), veil), ORDER.veils);
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
  const water = lines([waterline(bay)], { wide: 1.5, cut: false });
  water.name = WATER;
  put(water, ORDER.lines);
  return { root, targets, closed, dispose: () => disposeAll(root) };
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
      const edge = lines(ringed, { wide: 2, cut: false });
      edge.renderOrder = ORDER.lines;
      root.add(edge);
    }
    if (loops.length === 0) {
      continue;
    }
    const [fan, field] = fans(loops, plane);
    const count = face({ cut: false });
    Object.assign(count, { colorWrite: false, depthWrite: false, depthTest: false, polygonOffset: false, stencilWrite: true, stencilFunc: AlwaysStencilFunc, stencilZPass: InvertStencilOp });
    const fill = face({ colour: "ink", fill: other ? "other" : "single", cut: false });
    Object.assign(fill, { stencilWrite: true, stencilRef: 0, stencilFunc: NotEqualStencilFunc, stencilZPass: ZeroStencilOp, stencilZFail: ZeroStencilOp });
    for (const [geometry, material] of [[fan, count], [field, fill]] as const) {
      const one = new Mesh(geometry, material);
      one.renderOrder = order;
      one.frustumCulled = false;
      root.add(one);
      order += 0.01;
    }
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
  const out = new Points(geometry, dots());
  out.renderOrder = ORDER.points;
  out.frustumCulled = false;
  return out;
}

/** Gives back what the graphics hold of a part of the scene. */
export function disposeAll(root: Object3D): void {
  root.traverse((one) => {
    const own = one as Partial<Mesh>;
    own.geometry?.dispose();
    const material = own.material as Material | Material[] | undefined;
    for (const each of Array.isArray(material) ? material : material ? [material] : []) {
      each.dispose();
    }
  });
}

/** Materials whose dashes run round a middle that moves with the view. */
export function withMiddle(root: Object3D): { material: ShaderMaterial; middle: P3 }[] {
  const out: { material: ShaderMaterial; middle: P3 }[] = [];
  root.traverse((one) => {
    const material = (one as Partial<Mesh>).material as ShaderMaterial | undefined;
    const middle = material?.userData?.["middle"] as P3 | undefined;
    if (material && middle) {
      out.push({ material, middle });
    }
  });
  return out;
}

export type { Solid };

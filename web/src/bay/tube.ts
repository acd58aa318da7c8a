/** Lines made round: hoses, pipes, bands of clips, drivers. Points and triangles as plain numbers. */
import type { P3 } from "./form";
import { add, beside, cross, dot, less, onClock, square, times, turned, unit } from "./space";

export interface Frame {
  at: P3;
  way: P3;
  /** Square to `way`; carried along without twist. */
  side: P3;
}

/** Frames along a line that turn with it and never about it, as a hose does that is not twisted. */
export function framesOf(line: readonly P3[], first?: P3): Frame[] {
  const out: Frame[] = [];
  const clean = line.filter((point, at) => at === 0 || Math.hypot(...less(point, line[at - 1] ?? point)) > 1e-7);
  clean.forEach((at, i) => {
    const [prev, next] = [clean[i - 1], clean[i + 1]];
    const way = unit(add(prev ? unit(less(at, prev), [0, 0, 0]) : [0, 0, 0], next ? unit(less(next, at), [0, 0, 0]) : [0, 0, 0]));
    const before = out[i - 1];
    let side: P3;
    if (before) {
      const axis = cross(before.way, way);
      const s = Math.hypot(...axis);
      side = s < 1e-9 ? before.side : turned(before.side, times(axis, 1 / s), Math.atan2(s, dot(before.way, way)));
      side = unit(square(side, way), beside(way));
    } else {
      const want = first ?? [0, 0, 1];
      const flat = square(want, way);
      side = Math.hypot(...flat) > 0.05 ? unit(flat) : beside(way);
    }
    out.push({ at, way, side });
  });
  return out;
}

/** So little may a line as drawn be off its own [m]. */
const OFF = 0.0001;

/** The same line with fewer points: where it runs straight it needs none. */
export function sparse(line: readonly P3[], most = OFF): readonly P3[] {
  const [first, last] = [line[0], line[line.length - 1]];
  if (!first || !last || line.length < 3) {
    return line;
  }
  const way = less(last, first);
  const long = Math.max(dot(way, way), 1e-12);
  let [split, worst] = [0, most];
  line.forEach((point, at) => {
    const out = less(point, first);
    const away = less(out, times(way, Math.min(1, Math.max(0, dot(out, way) / long))));
    if (Math.hypot(...away) > worst) {
      [split, worst] = [at, Math.hypot(...away)];
    }
  });
  return split === 0 ? [first, last] : [...sparse(line.slice(0, split + 1), most), ...sparse(line.slice(split), most).slice(1)];
}

export interface Solid {
  at: Float32Array;
  index: Uint32Array;
}

/** How many faces round a tube of a radius [m]. */
export function faces(radius: number): number {
  return radius > 0.012 ? 24 : 14;
}

/** A closed round body about a line. */
export function tube(line: readonly P3[], radius: number, around = faces(radius)): Solid {
  const frames = framesOf(line);
  const at: number[] = [];
  const index: number[] = [];
  for (const frame of frames) {
    for (let k = 0; k < around; k += 1) {
      at.push(...add(frame.at, times(onClock(frame.way, frame.side, (360 * k) / around), radius)));
    }
  }
  for (let i = 0; i + 1 < frames.length; i += 1) {
    for (let k = 0; k < around; k += 1) {
      const [a, b] = [i * around + k, i * around + ((k + 1) % around)];
      // Seen from outside the points of a face go against the clock; those of `onClock` go with it along the way.
      index.push(a, b, a + around, b, b + around, a + around);
    }
  }
  const [first, last] = [frames[0], frames[frames.length - 1]];
  if (first && last && frames.length > 1) {
    const base = at.length / 3;
    at.push(...first.at, ...last.at);
    for (let k = 0; k < around; k += 1) {
      const n = (k + 1) % around;
      const end = (frames.length - 1) * around;
      index.push(base, n, k, base + 1, end + k, end + n);
    }
  }
  return { at: new Float32Array(at), index: new Uint32Array(index) };
}

/** The line that lies along a hose on the side that was uppermost at its beginning. */
export function layLine(line: readonly P3[], radius: number): P3[] {
  return framesOf(line).map((frame) => add(frame.at, times(frame.side, radius)));
}

/** A circle about an axis. */
export function ring(at: P3, axis: P3, radius: number, around = 32): P3[] {
  const side = beside(axis);
  return Array.from({ length: around + 1 }, (_, k) => add(at, times(onClock(axis, side, (360 * k) / around), radius)));
}

/** A box with one side along each of three unit vectors. */
export function block(centre: P3, half: P3, axes: [P3, P3, P3]): Solid & { edges: [P3, P3][] } {
  const points: P3[] = [];
  for (const x of [-1, 1]) {
    for (const y of [-1, 1]) {
      for (const z of [-1, 1]) {
        points.push(add(centre, add(add(times(axes[0], x * half[0]), times(axes[1], y * half[1])), times(axes[2], z * half[2]))));
      }
    }
  }
  const quads = [[0, 1, 3, 2], [4, 6, 7, 5], [0, 4, 5, 1], [2, 3, 7, 6], [0, 2, 6, 4], [1, 5, 7, 3]];
  const turnedOut = dot(cross(axes[0], axes[1]), axes[2]) > 0;
  const index = quads.flatMap(([a = 0, b = 0, c = 0, d = 0]) => (turnedOut ? [a, b, c, a, c, d] : [a, c, b, a, d, c]));
  const pairs = [[0, 1], [2, 3], [4, 5], [6, 7], [0, 2], [1, 3], [4, 6], [5, 7], [0, 4], [1, 5], [2, 6], [3, 7]];
  const edges = pairs.map(([a = 0, b = 0]): [P3, P3] => [points[a] ?? centre, points[b] ?? centre]);
  return { at: new Float32Array(points.flat()), index: new Uint32Array(index), edges };
}

/** A part of a flat ring about a clock, seen along `axis`, from one angle to another [°], as triangles and as its outline. */
export function wedge(at: P3, axis: P3, noon: P3, inner: number, outer: number, from: number, to: number): { solid: Solid; outline: P3[] } {
  const span = to > from ? to - from : to + 360 - from;
  const steps = Math.max(2, Math.ceil(span / 6));
  const arc = (radius: number) =>
    Array.from({ length: steps + 1 }, (_, k) => add(at, times(onClock(axis, noon, from + (span * k) / steps), radius)));
  const [near, out] = [arc(inner), arc(outer)];
  const index: number[] = [];
  for (let k = 0; k < steps; k += 1) {
    const [a, b] = [k, k + steps + 1];
    index.push(a, b, a + 1, a + 1, b, b + 1);
  }
  const first = near[0];
  const outline = [...near, ...[...out].reverse(), ...(first && span < 359.9 ? [first] : [])];
  return { solid: { at: new Float32Array([...near, ...out].flat()), index: new Uint32Array(index) }, outline };
}

/** The arc of a bend about its tightest spot: `half` radians to each side, in the plane that holds the hose there. */
export function bendArc(at: P3, centre: P3, way: P3, half = 0.6): P3[] {
  const out = less(at, centre);
  const normal = unit(cross(out, way), [0, 0, 1]);
  return Array.from({ length: 17 }, (_, k) => add(centre, turned(out, normal, -half + (2 * half * k) / 16)));
}

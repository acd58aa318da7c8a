/** Bodies made ready for ink: their points joined where they meet, and for each the way in which it moves when the body grows. */
import type { Faces, P3 } from "./form";
import { cross, dot, less, unit } from "./space";
import type { Solid } from "./tube";

export interface Inked extends Solid {
  /** How far each point moves when every face moves out by one. */
  grow: Float32Array;
}

/** A body's faces as plain numbers. */
export function solidOf(faces: Faces): Solid {
  const last = faces.points.length;
  const good = faces.triangles.filter((triangle) => triangle.every((i) => i >= 0 && i < last));
  return { at: new Float32Array(faces.points.flat()), index: new Uint32Array(good.flat()) };
}

/** How far a corner may run out when its faces move by one: a needle's point would run away. */
const FARTHEST = 2.2;

/** Points that lie on one spot joined, and the way of growing of each. */
export function inked(solid: Solid): Inked {
  const names = new Map<string, number>();
  const to: number[] = [];
  const points: P3[] = [];
  for (let i = 0; i < solid.at.length / 3; i += 1) {
    const point: P3 = [solid.at[3 * i] ?? 0, solid.at[3 * i + 1] ?? 0, solid.at[3 * i + 2] ?? 0];
    const name = point.map((value) => Math.round(value * 1e5)).join(" ");
    const had = names.get(name);
    if (had === undefined) {
      names.set(name, points.length);
      to.push(points.length);
      points.push(point);
    } else {
      to.push(had);
    }
  }
  const index = [...solid.index].map((i) => to[i] ?? 0);
  if (volumeOf({ at: points.flat(), index }) < 0) {
    // Turned inside out: the outer side of a face is that from which its points go against the clock.
    for (let t = 0; t + 2 < index.length; t += 3) {
      [index[t + 1], index[t + 2]] = [index[t + 2] ?? 0, index[t + 1] ?? 0];
    }
  }
  const normals: P3[][] = points.map(() => []);
  for (let t = 0; t + 2 < index.length; t += 3) {
    const trio = [index[t] ?? 0, index[t + 1] ?? 0, index[t + 2] ?? 0];
    const [a, b, c] = trio.map((i) => points[i]);
    if (a && b && c) {
      const raw = cross(less(b, a), less(c, a));
      if (Math.hypot(...raw) > 1e-14) {
        const normal = unit(raw);
        for (const i of trio) {
          const own = normals[i];
          if (own && own.every((other) => dot(other, normal) < 0.999)) {
            own.push(normal);
          }
        }
      }
    }
  }
  const grow = normals.flatMap((own) => growing(own));
  return { at: new Float32Array(points.flat()), index: new Uint32Array(index), grow: new Float32Array(grow) };
}

/** What a closed body holds, negative where it is turned inside out [m³]. */
export function volumeOf({ at, index }: { at: ArrayLike<number>; index: ArrayLike<number> }): number {
  const point = (i: number): P3 => [at[3 * i] ?? 0, at[3 * i + 1] ?? 0, at[3 * i + 2] ?? 0];
  const origin = point(0);
  let sum = 0;
  for (let t = 0; t + 2 < index.length; t += 3) {
    const [a, b, c] = [index[t] ?? 0, index[t + 1] ?? 0, index[t + 2] ?? 0].map((i) => less(point(i), origin));
    sum += a && b && c ? dot(a, cross(b, c)) / 6 : 0;
  }
  return sum;
}

/** The way that takes a corner out by one over each of its faces: exact for up to three, the nearest way for more. */
export function growing(normals: readonly P3[]): P3 {
  if (normals.length === 0) {
    return [0, 0, 0];
  }
  // (Σ n nᵀ + ε) d = Σ n
  const e = 1e-6 * normals.length;
  const m = [e, 0, 0, 0, e, 0, 0, 0, e];
  const b: P3 = [0, 0, 0];
  for (const n of normals) {
    for (let r = 0; r < 3; r += 1) {
      b[r] = (b[r] ?? 0) + (n[r] ?? 0);
      for (let c = 0; c < 3; c += 1) {
        m[3 * r + c] = (m[3 * r + c] ?? 0) + (n[r] ?? 0) * (n[c] ?? 0);
      }
    }
  }
  const rows: P3[] = [0, 1, 2].map((r): P3 => [m[3 * r] ?? 0, m[3 * r + 1] ?? 0, m[3 * r + 2] ?? 0]);
  const [r0 = [0, 0, 0], r1 = [0, 0, 0], r2 = [0, 0, 0]] = rows as [P3?, P3?, P3?];
  const det = dot(r0, cross(r1, r2));
  const mean = unit(b, [0, 0, 0]);
  if (Math.abs(det) < 1e-14) {
    return mean;
  }
  // The matrix is its own mirror, so its columns are its rows.
  const d: P3 = [dot(b, cross(r1, r2)) / det, dot(r0, cross(b, r2)) / det, dot(r0, cross(r1, b)) / det];
  const far = Math.hypot(...d);
  return far > FARTHEST ? [(d[0] / far) * FARTHEST, (d[1] / far) * FARTHEST, (d[2] / far) * FARTHEST] : d;
}

/** Edges as pairs of points. */
export function edgesOf(faces: Faces): [P3, P3][] {
  const out: [P3, P3][] = [];
  for (const [i, j] of faces.edges) {
    const [a, b] = [faces.points[i], faces.points[j]];
    if (a && b) {
      out.push([a, b]);
    }
  }
  return out;
}

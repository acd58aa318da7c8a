/** What lies under the hand. */
import type { P3 } from "./form";
import type { Mesh, Plane } from "./section";
import { isCut } from "./section";
import { add, cross, dot, less, times } from "./space";

export interface Ray {
  from: P3;
  way: P3;
}
export interface Hit {
  key: string | null;
  at: P3;
  /** What it is that was met. */
  on: "body" | "scan";
  /** How far along the ray [m]. */
  far: number;
}
export interface Target {
  key: string | null;
  mesh: Mesh;
  /** A ball that holds the mesh: what passes it by is not looked at closer. */
  ball: Ball;
}
export interface Ball {
  at: P3;
  radius: number;
}

/** A ball that holds all points of a mesh. */
export function ballOf(mesh: Mesh): Ball {
  const low: P3 = [Infinity, Infinity, Infinity];
  const high: P3 = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < mesh.at.length; i += 1) {
    const [k, value] = [i % 3, mesh.at[i] ?? 0];
    low[k] = Math.min(low[k] ?? value, value);
    high[k] = Math.max(high[k] ?? value, value);
  }
  if (low[0] > high[0]) {
    return { at: [0, 0, 0], radius: -1 };
  }
  return { at: times(add(low, high), 0.5), radius: Math.hypot(...less(high, low)) / 2 };
}

/** Whether a ray comes near a ball at all. */
function passes({ at, radius }: Ball, ray: Ray): boolean {
  const off = less(at, ray.from);
  const far = dot(off, ray.way);
  return radius < 0 || dot(off, off) - far * far > radius * radius;
}

/** Where a ray first meets, from its beginning on, a triangle of a mesh that has not been cut away; `Infinity` where it does not. */
export function meets(mesh: Mesh, ray: Ray, plane: Plane | null): number {
  let best = Infinity;
  const { at, index } = mesh;
  const point = (i: number): P3 => [at[3 * i] ?? 0, at[3 * i + 1] ?? 0, at[3 * i + 2] ?? 0];
  for (let t = 0; t + 2 < index.length; t += 3) {
    const a = point(index[t] ?? 0);
    const [u, v] = [less(point(index[t + 1] ?? 0), a), less(point(index[t + 2] ?? 0), a)];
    const p = cross(ray.way, v);
    const det = dot(u, p);
    if (Math.abs(det) < 1e-15) {
      continue;
    }
    const off = less(ray.from, a);
    const s = dot(off, p) / det;
    if (s < 0 || s > 1) {
      continue;
    }
    const q = cross(off, u);
    const r = dot(ray.way, q) / det;
    if (r < 0 || s + r > 1) {
      continue;
    }
    const far = dot(v, q) / det;
    if (far >= 0 && far < best && !isCut(plane, add(ray.from, times(ray.way, far)))) {
      best = far;
    }
  }
  return best;
}

/** The nearest of all targets under a ray. */
export function under(targets: readonly Target[], ray: Ray, plane: Plane | null): Hit | null {
  let best: Hit | null = null;
  for (const { key, mesh, ball } of targets) {
    const far = passes(ball, ray) ? Infinity : meets(mesh, ray, plane);
    if (far < (best?.far ?? Infinity)) {
      best = { key, far, on: "body", at: add(ray.from, times(ray.way, far)) };
    }
  }
  return best;
}

/** The nearest point of a cloud that lies within `within` of a ray [m]. */
export function cloudUnder(points: ArrayLike<number>, ray: Ray, within: number, plane: Plane | null): Hit | null {
  let best: Hit | null = null;
  for (let i = 0; i + 2 < points.length; i += 3) {
    const at: P3 = [points[i] ?? 0, points[i + 1] ?? 0, points[i + 2] ?? 0];
    const off = less(at, ray.from);
    const far = dot(off, ray.way);
    const aside = dot(off, off) - far * far;
    if (far >= 0 && aside <= within * within && far < (best?.far ?? Infinity) && !isCut(plane, at)) {
      best = { key: null, at, far, on: "scan" };
    }
  }
  return best;
}

/** Whether the way from a point to the eye is free of all targets but its own. */
export function isSeen(at: P3, ray: Ray, targets: readonly Target[], own: string | null, plane: Plane | null, clear: number): boolean {
  const far = dot(less(at, ray.from), ray.way);
  return targets.every(({ key, mesh, ball }) => isOwn(key, own) || passes(ball, ray) || meets(mesh, ray, plane) >= far - clear);
}

/** A joint belongs to its run, a run to its joints. */
function isOwn(key: string | null, own: string | null): boolean {
  return own !== null && key !== null && (key === own || key.startsWith(`${own}.`) || own.startsWith(`${key}.`));
}

/** Sums with three numbers. */
import type { P3 } from "./form";

export const add = (a: P3, b: P3): P3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const less = (a: P3, b: P3): P3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const times = (a: P3, k: number): P3 => [a[0] * k, a[1] * k, a[2] * k];
export const dot = (a: P3, b: P3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a: P3, b: P3): P3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
export const long = (a: P3): number => Math.hypot(a[0], a[1], a[2]);
export const far = (a: P3, b: P3): number => long(less(a, b));
export const between = (a: P3, b: P3, share: number): P3 => add(a, times(less(b, a), share));

/** Length 1; what has no length points to `other`. */
export function unit(a: P3, other: P3 = [1, 0, 0]): P3 {
  const l = long(a);
  return l > 1e-12 ? times(a, 1 / l) : other;
}

/** What of `a` stands square to the unit vector `n`. */
export const square = (a: P3, n: P3): P3 => less(a, times(n, dot(a, n)));

/** Some unit vector square to a unit vector. */
export function beside(n: P3): P3 {
  return unit(square(Math.abs(n[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0], n));
}

/** Turned about a unit axis by an angle [rad], right-handed. */
export function turned(a: P3, axis: P3, by: number): P3 {
  const [c, s] = [Math.cos(by), Math.sin(by)];
  return add(add(times(a, c), times(cross(axis, a), s)), times(axis, dot(axis, a) * (1 - c)));
}

/** A line's length from its beginning to each of its points. */
export function along(line: readonly P3[]): number[] {
  const out: number[] = [];
  let sum = 0;
  line.forEach((point, at) => {
    const before = line[at - 1];
    sum += before ? far(before, point) : 0;
    out.push(sum);
  });
  return out;
}

/** Point and direction at a share of a line's length; null for a line of no points. */
export function placeOn(line: readonly P3[], share: number): { at: P3; way: P3 } | null {
  const first = line[0];
  if (!first) {
    return null;
  }
  const sums = along(line);
  const want = (sums[sums.length - 1] ?? 0) * Math.min(Math.max(share, 0), 1);
  for (let i = 1; i < line.length; i += 1) {
    const [a, b, s, e] = [line[i - 1], line[i], sums[i - 1] ?? 0, sums[i] ?? 0];
    if (a && b && (want <= e || i === line.length - 1) && e > s) {
      return { at: between(a, b, Math.min(1, (want - s) / (e - s))), way: unit(less(b, a)) };
    }
  }
  return { at: first, way: [1, 0, 0] };
}

/** Direction in which a clock's hand points: degrees from noon, clockwise for one who looks along the axis. */
export function onClock(axis: P3, noon: P3, degrees: number): P3 {
  const by = (degrees * Math.PI) / 180;
  return add(times(noon, Math.cos(by)), times(cross(axis, noon), Math.sin(by)));
}

/** The middle of all points; null where there are none. */
export function middle(points: readonly P3[]): P3 | null {
  return points.length === 0 ? null : times(points.reduce(add, [0, 0, 0]), 1 / points.length);
}

/**
 * Where one looks from. The picture is a parallel projection, as on a drawing board: one scale all
 * over, and what is square stays square.
 */
import type { P3 } from "./form";
import { add, cross, dot, less, square, times, turned, unit } from "./space";

export interface View {
  /** Unit vector along which one looks. */
  way: P3;
  /** Unit vector that stands upright in the picture; square to `way`. */
  up: P3;
  /** What lies in the middle of the picture [m]. */
  centre: P3;
  /** Pixels a metre. */
  scale: number;
  /** Where the eye stands: nothing before it is seen. Left out where it stands before everything. */
  eye?: P3;
}
export interface Size {
  width: number;
  height: number;
}
export interface Box {
  low: P3;
  high: P3;
}

/** A point of the picture: right and down from its upper left corner [px], and how far away [m]. */
export interface Flat {
  x: number;
  y: number;
  depth: number;
}

/** What lies at the right hand of a view. */
export const rightOf = (view: Pick<View, "way" | "up">): P3 => cross(view.way, view.up);

/** A view along `way`, upright as `up` as far as that goes. */
export function looking(way: P3, up: P3): Pick<View, "way" | "up"> {
  const on = unit(way, [0, 0, -1]);
  const tries: P3[] = [up, [0, 0, 1], [1, 0, 0], [0, 1, 0]];
  for (const one of tries) {
    const flat = square(one, on);
    if (Math.hypot(...flat) > 1e-3) {
      return { way: on, up: unit(flat) };
    }
  }
  return { way: on, up: [0, 0, 1] };
}

export function flat(view: View, size: Size, point: P3): Flat {
  const off = less(point, view.centre);
  return {
    x: size.width / 2 + dot(off, rightOf(view)) * view.scale,
    y: size.height / 2 - dot(off, view.up) * view.scale,
    depth: dot(off, view.way),
  };
}

/** The point in the middle's plane that a spot of the picture stands for. */
export function back(view: View, size: Size, x: number, y: number): P3 {
  const right = times(rightOf(view), (x - size.width / 2) / view.scale);
  return add(add(view.centre, right), times(view.up, (size.height / 2 - y) / view.scale));
}

/** Whether a point lies between a stepped-in eye and where it stepped in from. */
export const isBehindEye = (view: View, point: P3): boolean => view.eye !== undefined && dot(less(point, view.eye), view.way) < -1e-3;

/** The eight corners of a box. */
export function corners({ low, high }: Box): P3[] {
  const out: P3[] = [];
  for (const x of [low[0], high[0]]) {
    for (const y of [low[1], high[1]]) {
      for (const z of [low[2], high[2]]) {
        out.push([x, y, z]);
      }
    }
  }
  return out;
}

/** Moved and scaled so that all points are in the picture, with a margin [px]. */
export function fitted(view: Pick<View, "way" | "up">, points: readonly P3[], size: Size, margin = 26): View {
  const right = rightOf(view);
  const [l, r] = reach(points, right);
  const [d, u] = reach(points, view.up);
  const [n, f] = reach(points, view.way);
  const room = (px: number) => Math.max(40, px - 2 * margin);
  const scale = Math.min(room(size.width) / Math.max(r - l, 1e-3), room(size.height) / Math.max(u - d, 1e-3));
  const centre = add(add(times(right, (l + r) / 2), times(view.up, (d + u) / 2)), times(view.way, (n + f) / 2));
  return { way: view.way, up: view.up, centre, scale: Math.min(scale, CLOSEST) };
}

function reach(points: readonly P3[], along: P3): [number, number] {
  let [least, most] = [Infinity, -Infinity];
  for (const point of points) {
    const s = dot(point, along);
    least = Math.min(least, s);
    most = Math.max(most, s);
  }
  return least <= most ? [least, most] : [-0.5, 0.5];
}

/** Nearest and farthest that one may stand [px a metre]. */
const CLOSEST = 20_000;
const FARTHEST = 20;

/**
 * Turned as a hand turns it: to the right about the plumb line, down over the picture's own right.
 * Plumb lines stay upright in the picture, so that nobody loses which way is up.
 */
export function turn(view: View, right: number, down: number): View {
  const plumb: P3 = [0, 0, 1];
  const across = rightOf(view);
  // The way may come near the plumb line, never over it: up would become down.
  const now = Math.asin(Math.min(1, Math.max(-1, dot(view.way, plumb))));
  const limit = Math.PI / 2 - 1e-3;
  const tip = Math.min(limit, Math.max(-limit, now - down)) - now;
  const tipped = turned(view.way, across, tip);
  const tippedUp = turned(view.up, across, tip);
  const way = turned(tipped, plumb, -right);
  // About a way that leans, the picture is set upright again.
  const lean = dot(across, plumb);
  const up = Math.abs(lean) > 1e-6 ? plumb : turned(tippedUp, plumb, -right);
  // Turned by hand, one steps back again.
  const { eye: _, ...free } = view;
  return { ...free, ...looking(way, Math.abs(dot(way, plumb)) > Math.cos(2e-2) ? turned(tippedUp, plumb, -right) : up) };
}

/** Shifted as a hand shifts it [px]. */
export function shift(view: View, right: number, down: number): View {
  const by = add(times(rightOf(view), -right / view.scale), times(view.up, down / view.scale));
  return { ...view, centre: add(view.centre, by) };
}

/** Nearer by a factor; what lies under the hand stays there. */
export function nearer(view: View, size: Size, by: number, x = size.width / 2, y = size.height / 2): View {
  const scale = Math.min(CLOSEST, Math.max(FARTHEST, view.scale * by));
  const held = back(view, size, x, y);
  const next = { ...view, scale };
  return { ...next, centre: add(view.centre, less(held, back(next, size, x, y))) };
}

/** On the way from one view to another: `share` 0 to 1. */
export function partway(from: View, to: View, share: number): View {
  if (share >= 1) {
    return to;
  }
  const mix = (a: P3, b: P3): P3 => add(times(a, 1 - share), times(b, share));
  return {
    ...looking(mix(from.way, to.way), mix(from.up, to.up)),
    centre: mix(from.centre, to.centre),
    scale: from.scale * (to.scale / from.scale) ** share,
  };
}

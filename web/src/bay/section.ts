/** The bay cut by a plane: what lies in the cut, as closed lines that can be filled with a hatch. */
import { dot, less } from "./space";
import type { Box } from "./camera";
import type { P3 } from "./form";
import { bowOf, portOf } from "./words";

export const CUTS = ["fore-and-aft", "athwart", "level"] as const;
export type Cut = (typeof CUTS)[number];

/** All that stands farther along `normal` than `at` is taken away. */
export interface Plane {
  normal: P3;
  at: number;
}

/** One step of the cut, and a fine one [m]. */
export const STEP = 0.01;
export const FINE = 0.001;

/** What is square to a kind of cut. */
export function squareTo(cut: Cut, axes: { x: string; y: string }): P3 {
  return cut === "level" ? [0, 0, 1] : cut === "athwart" ? bowOf(axes) : portOf(axes);
}

/** The plane of a cut; what stands between it and the eye is taken away. */
export function planeFor(cut: Cut, at: number, axes: { x: string; y: string }, way: P3): Plane {
  const normal = squareTo(cut, axes);
  return dot(normal, way) <= 0 ? { normal, at } : { normal: [-normal[0], -normal[1], -normal[2]], at: -at };
}

/** From where to where a cut can be moved. */
export function reachOf(cut: Cut, axes: { x: string; y: string }, box: Box): [number, number] {
  const normal = squareTo(cut, axes);
  const [a, b] = [dot(box.low, normal), dot(box.high, normal)];
  return [Math.min(a, b), Math.max(a, b)];
}

/** One step further, on whole steps, within what there is. */
export function stepped(at: number, by: number, [least, most]: [number, number]): number {
  const size = Math.abs(by);
  const next = by > 0 ? Math.floor(at / size + 1e-6) + 1 : Math.ceil(at / size - 1e-6) - 1;
  return Math.min(most, Math.max(least, next * size));
}

/** Triangles as they are drawn: x y z of each point, three places a triangle. */
export interface Mesh {
  at: ArrayLike<number>;
  index: ArrayLike<number>;
}

/** A piece of the cut's outline, each end named by the edge that it lies on. */
interface Piece {
  a: P3;
  b: P3;
  from: string;
  to: string;
}

/**
 * The closed lines in which a plane cuts a mesh. A mesh with holes gives open lines besides: those are drawn but can't
 * be filled.
 */
export function cutOf(mesh: Mesh, plane: Plane): { closed: P3[][]; open: P3[][] } {
  const pieces: Piece[] = [];
  const { at, index } = mesh;
  const [nx, ny, nz] = plane.normal;
  const height = (i: number) => {
    const h = nx * (at[3 * i] ?? 0) + ny * (at[3 * i + 1] ?? 0) + nz * (at[3 * i + 2] ?? 0) - plane.at;
    // A corner just on the plane counts as over it, so that no edge is met twice.
    return h === 0 ? 1e-12 : h;
  };
  const cross = (i: number, j: number, hi: number, hj: number): { at: P3; name: string } => {
    // From the same end whichever triangle asks, so that both give the same point.
    const [p, q, hp, hq] = i < j ? [i, j, hi, hj] : [j, i, hj, hi];
    const s = hp / (hp - hq);
    const mix = (k: number) => (at[3 * p + k] ?? 0) * (1 - s) + (at[3 * q + k] ?? 0) * s;
    return { at: [mix(0), mix(1), mix(2)], name: `${p} ${q}` };
  };
  for (let t = 0; t + 2 < index.length; t += 3) {
    const [a, b, c] = [index[t] ?? 0, index[t + 1] ?? 0, index[t + 2] ?? 0];
    const [ha, hb, hc] = [height(a), height(b), height(c)];
    const edges: [number, number, number, number][] = [[a, b, ha, hb], [b, c, hb, hc], [c, a, hc, ha]];
    const met = edges.filter(([, , h, k]) => h > 0 !== k > 0).map(([i, j, h, k]) => cross(i, j, h, k));
    const [one, two] = met;
    if (one && two) {
      pieces.push({ a: one.at, b: two.at, from: one.name, to: two.name });
    }
  }
  return chained(pieces);
}

/** Pieces put end to end. */
function chained(pieces: readonly Piece[]): { closed: P3[][]; open: P3[][] } {
  const ends = new Map<string, number[]>();
  pieces.forEach((piece, at) => {
    for (const name of [piece.from, piece.to]) {
      ends.set(name, [...(ends.get(name) ?? []), at]);
    }
  });
  const used = new Set<number>();
  const closed: P3[][] = [];
  const open: P3[][] = [];
  // Lines that end somewhere are begun at their ends, or they would be taken for two.
  const order = pieces.map((_, at) => at).sort((a, b) => loose(pieces[b], ends) - loose(pieces[a], ends));
  for (const start of order) {
    const first = pieces[start];
    if (!first || used.has(start)) {
      continue;
    }
    used.add(start);
    const turned = (ends.get(first.from)?.length ?? 0) > 1 && (ends.get(first.to)?.length ?? 0) === 1;
    const line: P3[] = turned ? [first.b, first.a] : [first.a, first.b];
    const begin = turned ? first.to : first.from;
    let end = turned ? first.from : first.to;
    while (end !== begin) {
      const next = ends.get(end)?.find((at) => !used.has(at));
      const piece = next === undefined ? undefined : pieces[next];
      if (next === undefined || !piece) {
        break;
      }
      used.add(next);
      line.push(piece.from === end ? piece.b : piece.a);
      end = piece.from === end ? piece.to : piece.from;
    }
    if (end === begin) {
      line.pop();
      closed.push(line);
    } else {
      open.push(line);
    }
  }
  return { closed, open };
}

function loose(piece: Piece | undefined, ends: ReadonlyMap<string, number[]>): number {
  return piece && (ends.get(piece.from)?.length === 1 || ends.get(piece.to)?.length === 1) ? 1 : 0;
}

/** Twice the area of a closed line within its plane, by its sense about the normal [m²]. */
export function areaOf(line: readonly P3[], normal: P3): number {
  const origin = line[0];
  let sum = 0;
  line.forEach((point, at) => {
    const next = line[(at + 1) % line.length];
    if (origin && next) {
      const [a, b] = [less(point, origin), less(next, origin)];
      sum += dot(normal, [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]);
    }
  });
  return sum;
}

/** Whether a point has been taken away. */
export const isCut = (plane: Plane | null, point: P3): boolean => plane !== null && dot(plane.normal, point) > plane.at + 1e-9;

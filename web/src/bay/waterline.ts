/** The trace of the still water. */
import { flat, isBehindEye, type Size, type View } from "./camera";
import type { Bay, P3 } from "./form";
import { add, between, dot, times } from "./space";
import { bowOf, portOf } from "./words";

/** Where the still water meets the edge of the picture's box: corners of a level field at height 0. */
export function waterline(bay: Bay): P3[] {
  const [bow, port] = [bowOf(bay.axes), portOf(bay.axes)];
  const [f, a] = [bay.high, bay.low];
  const along = (d: P3): [number, number] => {
    const both = [dot(f, d), dot(a, d)];
    return [Math.min(...both) - 0.06, Math.max(...both) + 0.06];
  };
  const [x0, x1] = along(bow);
  const [y0, y1] = along(port);
  const at = (x: number, y: number): P3 => add(times(bow, x), times(port, y));
  const level = (p: P3): P3 => [p[0], p[1], 0];
  return [at(x0, y0), at(x1, y0), at(x1, y1), at(x0, y1), at(x0, y0)].map(level);
}

/** Where one looks down on the water it has no trace. */
export const showsWater = (view: Pick<View, "way">): boolean => Math.abs(view.way[2]) < 0.9;

/** Places along each side of the trace at which its sign may stand. */
const PLACES = 16;

/** Where the sign of the waterline stands: on its trace, as far to the left as the picture shows it; null where it shows none. */
export function signOf(bay: Bay, view: View, size: Size): { x: number; y: number } | null {
  if (!showsWater(view)) {
    return null;
  }
  const trace = waterline(bay);
  let best: { x: number; y: number } | null = null;
  for (let side = 1; side < trace.length; side += 1) {
    const [a, b] = [trace[side - 1], trace[side]];
    for (let k = 0; a && b && k <= PLACES; k += 1) {
      const point = between(a, b, k / PLACES);
      const { x, y } = flat(view, size, point);
      const inside = x > 12 && x < size.width - 12 && y > 14 && y < size.height - 12 && !isBehindEye(view, point);
      if (inside && (best === null || x < best.x - 0.5 || (x < best.x + 0.5 && y > best.y))) {
        best = { x, y };
      }
    }
  }
  return best;
}

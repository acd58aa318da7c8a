/** The trace of the still water. */
import type { Bay, P3 } from "./form";
import { add, dot, times } from "./space";
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

/** A dimension line in the picture: between two spots, its arrows inside where there is room, else from outside. */

export interface Spot {
  x: number;
  y: number;
}

/** How long an arrowhead is, and how long the line runs on outside of a narrow gap [px]. */
const HEAD = 7;
const TAIL = 18;

/** Lines and filled arrowheads as paths. */
export function dimension(from: Spot, to: Spot): { line: string; heads: string } {
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  const far = Math.hypot(dx, dy);
  // Seen along the gap there is no line to draw.
  const [ux, uy] = far > 0.5 ? [dx / far, dy / far] : [1, 0];
  const roomy = far >= 3 * HEAD;
  const at = (spot: Spot, along: number, aside = 0): string =>
    `${(spot.x + ux * along - uy * aside).toFixed(1)} ${(spot.y + uy * along + ux * aside).toFixed(1)}`;
  const tick = (spot: Spot) => `M${at(spot, 0, -5)}L${at(spot, 0, 5)}`;
  // A head's point stands on the spot; its back lies inside the gap, or outside of it.
  const head = (spot: Spot, way: 1 | -1) => `M${at(spot, 0)}L${at(spot, way * HEAD, 2.6)}L${at(spot, way * HEAD, -2.6)}Z`;
  const line = roomy ? `M${at(from, 0)}L${at(to, 0)}` : `M${at(from, -TAIL)}L${at(from, 0)}M${at(to, 0)}L${at(to, TAIL)}`;
  return {
    line: `${line}${tick(from)}${tick(to)}`,
    heads: roomy ? head(from, 1) + head(to, -1) : head(from, -1) + head(to, 1),
  };
}

/** The water-level sign: a triangle that stands on the line, over two short strokes. */
export function levelSign({ x, y }: Spot): { body: string; strokes: string } {
  return {
    body: `M${x.toFixed(1)} ${y.toFixed(1)}l-6 -9h12Z`,
    strokes: `M${(x - 5).toFixed(1)} ${(y + 4).toFixed(1)}h10M${(x - 3).toFixed(1)} ${(y + 7).toFixed(1)}h6`,
  };
}

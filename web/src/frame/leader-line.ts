/** The geometry of a leader, in the sheet's own pixels. */

export interface Box {
  left: number;
  top: number;
  right: number;
  bottom: number;
}
export interface Point {
  x: number;
  y: number;
}
/** Where a leader ends, and whether its place is off view beyond that end. */
export interface End extends Point {
  off: boolean;
  /** How near the line may come [px]. */
  clear: number;
}
export interface Line {
  to: string;
  path: string;
  arrow: string;
  moved: (dx: number, dy: number) => Line;
}

/** The middle of a box, held inside the field that shows it. */
export function inside(box: Box, field: Box): End {
  const x = (box.left + box.right) / 2;
  const y = (box.top + box.bottom) / 2;
  const held = {
    x: Math.min(Math.max(x, field.left + 4), field.right - 4),
    y: Math.min(Math.max(y, field.top + 4), field.bottom - 4),
  };
  const off = Math.abs(held.x - x) > 1 || Math.abs(held.y - y) > 1;
  const clear = Math.min(14, Math.max(box.right - box.left, box.bottom - box.top) / 2 + 4);
  return { ...held, off, clear: off ? 0 : clear };
}

function line(to: string, points: Point[], arrow: boolean): Line {
  const at = (dx: number, dy: number): Line => {
    const moved = points.map((point) => ({
      x: Math.round((point.x + dx) * 2) / 2,
      y: Math.round((point.y + dy) * 2) / 2,
    }));
    const path = moved.map((point, i) => `${i === 0 ? "M" : "L"}${point.x} ${point.y}`).join("");
    return { to, path, arrow: arrow ? head(moved) : "", moved: at };
  };
  return at(0, 0);
}

/** An arrowhead at the end of a line, filled. */
function head(points: Point[]): string {
  const [a, b] = points.slice(-2);
  if (!a || !b) {
    return "";
  }
  const long = Math.hypot(b.x - a.x, b.y - a.y) || 1;
  const [ux, uy] = [(b.x - a.x) / long, (b.y - a.y) / long];
  const back = { x: b.x - 9 * ux, y: b.y - 9 * uy };
  const corner = (side: number) =>
    `${(back.x - 3 * side * uy).toFixed(1)} ${(back.y + 3 * side * ux).toFixed(1)}`;
  return `M${b.x} ${b.y}L${corner(1)}L${corner(-1)}Z`;
}

/** The point before the end of a line at which it keeps clear of what it points at. */
function short(from: Point, end: End): Point {
  const long = Math.hypot(end.x - from.x, end.y - from.y) || 1;
  const share = Math.max(0, 1 - end.clear / long);
  return { x: from.x + (end.x - from.x) * share, y: from.y + (end.y - from.y) * share };
}

/** A short shoulder, then straight to the place. */
export function straight(to: string, start: Point, end: End, shoulder: number): Line {
  const from = { x: start.x - shoulder, y: start.y };
  return line(to, shoulder === 0 ? [from, short(from, end)] : [start, from, short(from, end)], true);
}

/** Down beside the column, along the top of the strip, and down on the mark. */
export function bent(to: string, start: Point, end: End, top: number): Line {
  const beside = start.x - 8;
  const lane = Math.min(top - 6, end.y - 12);
  const over = { x: end.x, y: lane };
  return line(
    to,
    [start, { x: beside, y: start.y }, { x: beside, y: lane }, over, short(over, end)],
    true,
  );
}

/** Straight up or down to the mark, from the edge of a column that lies over or under the strip. */
export function upright(to: string, from: number, end: End): Line {
  const start = { x: end.x, y: from };
  return line(to, [start, short(start, end)], true);
}

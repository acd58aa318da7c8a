/** Angles about a joint as hours of its clock. */
import type { BayClip } from "./form";

/** Free arcs as hours of the clock, rounded inward to half hours: `2½ to 5`. */
export function free(clip: Pick<BayClip, "free">): string {
  return clip.free.length === 0 ? "–" : clip.free.map(({ from, to }) => hours(from, to)).join(", ");
}

function hours(from: number, to: number): string {
  const span = to > from ? to - from : to + 360 - from;
  if (span >= 359.5) {
    return "all round";
  }
  const [a, b] = [Math.ceil(from / 15 - 1e-6), Math.floor((from + span) / 15 + 1e-6)];
  return a > b ? "under half an hour" : a === b ? hour(a) : `${hour(a)} to ${hour(b)}`;
}

function hour(halves: number): string {
  const turn = ((halves % 24) + 24) % 24;
  const whole = Math.floor(turn / 2) === 0 ? 12 : Math.floor(turn / 2);
  return `${whole}${turn % 2 === 1 ? "½" : ""}`;
}

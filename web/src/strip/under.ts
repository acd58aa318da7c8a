/** Where a branch lies under the main loop: its own length, its ends as near under its tees as they go. */
import type { Tee } from "../sent";

/** What the drawing keeps free at its left and right, for axes and the pump's head [px]. */
const SIDES = 164;
/** The least that a branch is asked to be wide [px]. */
const LEAST = 480;

/** How wide a branch is asked to be drawn. */
export function wideOf(tee: Tee, whole: number): number {
  const own = tee.from !== null && tee.to !== null ? Math.abs(tee.to - tee.from) + SIDES : LEAST;
  return Math.round(Math.min(Math.max(own, LEAST), Math.max(whole, LEAST)));
}

/** How far from the left edge it is laid, so that it begins under its tee where there is room. */
export function offOf(tee: Tee, branch: { width: number; begins: number }, whole: number): number {
  const at = tee.from !== null && tee.to !== null ? Math.min(tee.from, tee.to) : (tee.from ?? tee.to ?? 0);
  return Math.max(0, Math.min(at - branch.begins, whole - branch.width));
}

/** The lines from the tees down to the ends of the branch, as a path so high. */
export function leads(tee: Tee, ends: [number, number], off: number, high: number): string {
  const line = (from: number | null, to: number) => (from === null ? "" : `M${from} 0L${off + to} ${high}`);
  return `${line(tee.from, ends[0])}${line(tee.to, ends[1])}`;
}

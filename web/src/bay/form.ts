/** What the program sends of the bay, and what it reads: lengths in metres, angles in degrees, z up from today's waterline. */
import type { Grade } from "../sent";

export type { Bay } from "../types/Bay";
export type { BayBend } from "../types/BayBend";
export type { BayBody } from "../types/BayBody";
export type { BayClip } from "../types/BayClip";
export type { BayFaces as Faces } from "../types/BayFaces";
export type { BayGap } from "../types/BayGap";
export type { BayPart } from "../types/BayPart";
export type { BayRun } from "../types/BayRun";
export type { LayAsk } from "../types/LayAsk";
export type { MeasureAsk } from "../types/MeasureAsk";
export type { Measured } from "../types/Measured";
export type { MeasureEnd } from "../types/MeasureEnd";
export type { ScanLaid as Laid } from "../types/ScanLaid";
export type { ScanLook } from "../types/ScanLook";
export type { ScanPair } from "../types/ScanPair";
export type { ScanPoint } from "../types/ScanPoint";
export type { ScanRay } from "../types/ScanRay";

/** x, y, z [m]. */
export type P3 = [number, number, number];

const GRADES = new Set(["sound", "marginal", "unsound", "unmeasured"]);

/** A grade of the program; what is not judged has none. */
export function gradeOf(word: string): Grade | null {
  return GRADES.has(word) ? (word as Grade) : null;
}

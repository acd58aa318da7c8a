/** What the program sends of the bay, and what it reads: lengths in metres, angles in degrees, z up from today's waterline. */
import type { Grade } from "../sent";

/** x, y, z [m]. */
export type P3 = [number, number, number];

export interface Bay {
  schema: string;
  /** Number of the file's change. */
  number: number;
  /** Where +x and +y point, in words. */
  axes: { x: string; y: string };
  low: P3;
  high: P3;
  hatch: { corners: P3[] } | null;
  bodies: BayBody[];
  scan: { triangles: number; error: string; laid: string } | null;
  runs: BayRun[];
  clips: BayClip[];
  missing: { run: string; mark: string; why: string; settles: string }[];
  /** Half the engine's movement on its mounts, upward [m]. */
  moves: P3 | null;
  spoken: string;
}
export interface Faces {
  points: P3[];
  triangles: [number, number, number][];
  /** Sharp edges. */
  edges: [number, number][];
}
export interface BayBody {
  name: string;
  title: string;
  nature: "solid" | "hot" | "moving" | "hull";
  frame: "hull" | "engine";
  /** Clearance wanted [m]. */
  keep: number;
  faces: Faces;
}
export interface BayPart {
  kind: "hose" | "rigid";
  line: P3[];
  radius: number;
  title: string;
  cut: string | null;
}
export interface BayRun {
  run: string;
  mark: string;
  title: string;
  grade: string;
  verdicts: string[];
  parts: BayPart[];
  up: P3[] | null;
  down: P3[] | null;
  bend: { at: P3; centre: P3; radius: number; text: string } | null;
  gap: { from: P3; to: P3; text: string; with: string } | null;
  highs: { at: P3; text: string }[];
  lows: { at: P3; text: string }[];
  facts: { name: string; text: string }[];
}
export interface BayClip {
  joint: string;
  mark: string;
  title: string;
  grade: string;
  at: P3;
  axis: P3;
  noon: P3;
  radius: number;
  screw: P3 | null;
  clock: string | null;
  tool: string | null;
  way: { points: P3[]; radius: number }[];
  free: { from: number; to: number }[];
  text: string;
  verdicts: string[];
}
export interface MeasureEnd {
  key?: string;
  at?: P3;
}
export interface Measured {
  text: string;
  deviation: string | null;
}
export interface ScanLook {
  name: string;
  triangles: number;
  points: number;
  units: string | null;
  size: P3;
  specks: number;
  open_edges: number;
  says: string[];
  /** x, y, z one after the other, in the file's units. */
  preview: number[];
}
export interface ScanPair {
  scan: P3;
  bay: P3;
  name: string;
}
export interface LayAsk {
  name: string;
  metres_per_unit: number | null;
  known: { a: P3; b: P3; length: number } | null;
  pairs: ScanPair[];
  behind: "solid" | "free";
  keep: boolean;
}
export interface Laid {
  residuals: { name: string; text: string }[];
  rms: string;
  fault: string | null;
  kept: boolean;
}

const GRADES = new Set(["sound", "marginal", "unsound", "unmeasured"]);

/** A grade of the program; what is not judged has none. */
export function gradeOf(word: string): Grade | null {
  return GRADES.has(word) ? (word as Grade) : null;
}

/** How primitives are gathered before they are painted, and which of them are chosen. */
import type { Placed } from "../sent";

/** One thing to paint: several forms of one class that nobody can choose are one path. */
export type Stroke = Placed & { path?: string };

/**
 * Neighbours of one class without a key become one path, so that a hatch of hundreds of lines is
 * one thing to draw. The order from back to front stays.
 */
export function merged(placed: readonly Placed[]): Placed[] {
  const out: Placed[] = [];
  let run: string[] = [];
  let of = "";
  const close = () => {
    if (run.length > 0) {
      out.push({ class: of, shape: { path: run.join("") } });
      run = [];
    }
  };
  for (const one of placed) {
    const loose = one.key === undefined && "path" in one.shape && !APART.has(one.class);
    if (!loose || one.class !== of) {
      close();
    }
    if (loose && "path" in one.shape) {
      of = one.class;
      run.push(one.shape.path);
    } else {
      out.push(one);
    }
  }
  close();
  return out;
}

/** Filled patches over each other would cut holes into one another as one path. */
const APART = new Set(["sheet", "solid", "sea"]);

/** Lines that are cased where their thing is chosen. */
export const CASED = new Set([
  "loop",
  "loop-assumed",
  "loop-cold",
  "dead-leg",
  "vent",
]);

/**
 * Whether a primitive stands for what is chosen: itself, or any piece of a chosen run.
 */
export function isChosen(key: string | undefined, chosen: string | null): boolean {
  return (
    key !== undefined && chosen !== null && (key === chosen || key.startsWith(`${chosen}.`))
  );
}

/** Marks that stand too near to be told apart by a finger are one place to press. */
export function crowded<M extends { x: number }>(marks: readonly M[], near: number): M[][] {
  const groups: M[][] = [];
  for (const mark of [...marks].sort((a, b) => a.x - b.x)) {
    const last = groups.at(-1);
    const before = last?.at(-1);
    if (last && before && mark.x - before.x < near) {
      last.push(mark);
    } else {
      groups.push([mark]);
    }
  }
  return groups;
}

/** Half the room to the nearest neighbour, at most `half`: hit areas never lie over each other. */
export function reach(marks: readonly { x: number }[], at: number, half: number): number {
  const x = marks[at]?.x ?? 0;
  const gaps = marks.filter((_, i) => i !== at).map((one) => Math.abs(one.x - x) / 2);
  return Math.max(4, Math.min(half, ...gaps));
}

/** How many rows of the band table a form draws. */
export function rowsSeen(form: "ribbon" | "half" | "tall", rows: number): number {
  return Math.min(rows, { ribbon: 0, half: 1, tall: 5 }[form]);
}

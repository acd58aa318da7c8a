/** The bay with the engine at either end of its movement: what the program says of it at rest is left out. */
import type { Bay, BayPart, BayRun, P3 } from "./form";
import { add, along, between, far, less, placeOn, times } from "./space";

export type Engine = "rest" | "up" | "down";

export function posed(bay: Bay, engine: Engine): Bay {
  if (engine === "rest" || bay.moves === null) {
    return bay;
  }
  const lift = times(bay.moves, engine === "up" ? 1 : -1);
  const bodies = bay.bodies.map((body) => (body.frame === "engine" ? { ...body, faces: { ...body.faces, points: body.faces.points.map((point) => add(point, lift)) } } : body));
  const runs = bay.runs.map((run) => ({ ...run, parts: run[engine] ? parted(run.parts, run[engine]) : run.parts, gap: null, bend: null, highs: [], lows: [] }));
  const clips = bay.clips.map((clip) => {
    const at = bay.runs.findIndex((run) => clip.joint.startsWith(`${run.run}.`));
    const [rest, now] = [bay.runs[at], runs[at]];
    return { ...clip, at: rest && now ? add(clip.at, movedAt(rest, now, clip.at)) : clip.at, screw: null, way: [], free: [] };
  });
  return { ...bay, bodies, runs, clips };
}

/** The parts of a run along its line as it lies now, each with as much of it as at rest. */
export function parted(parts: readonly BayPart[], line: readonly P3[]): BayPart[] {
  const long = parts.map((part) => along(part.line).at(-1) ?? 0);
  const whole = long.reduce((sum, one) => sum + one, 0);
  let done = 0;
  return parts.map((part, at) => {
    const from = done;
    done += (long[at] ?? 0) / Math.max(whole, 1e-9);
    return { ...part, line: stretch(line, from, done) };
  });
}

/** What of a line lies between two shares of its length. */
function stretch(line: readonly P3[], from: number, to: number): P3[] {
  const sums = along(line);
  const whole = sums.at(-1) ?? 0;
  const ends = [placeOn(line, from)?.at, placeOn(line, to)?.at];
  const inner = line.filter((_, at) => (sums[at] ?? 0) > from * whole + 1e-6 && (sums[at] ?? 0) < to * whole - 1e-6);
  return [ends[0], ...inner, ends[1]].filter((point) => point !== undefined);
}

const lineOf = (run: BayRun): P3[] => run.parts.flatMap((part) => part.line);

/** How far a run has moved by a spot of it. */
function movedAt(rest: BayRun, now: BayRun, spot: P3): P3 {
  const line = lineOf(rest);
  const share = shareOf(line, spot);
  const [a, b] = [placeOn(line, share), placeOn(lineOf(now), share)];
  return a && b ? less(b.at, a.at) : [0, 0, 0];
}

/** At what share of its length a line passes nearest to a spot. */
function shareOf(line: readonly P3[], spot: P3): number {
  const sums = along(line);
  let [best, off] = [0, Infinity];
  for (let i = 1; i < line.length; i += 1) {
    const [a, b] = [line[i - 1], line[i]];
    for (const part of [0, 0.5, 1]) {
      const away = a && b ? far(between(a, b, part), spot) : Infinity;
      if (away < off) {
        [best, off] = [(sums[i - 1] ?? 0) * (1 - part) + (sums[i] ?? 0) * part, away];
      }
    }
  }
  return best / Math.max(sums.at(-1) ?? 0, 1e-9);
}

/** The places that one looks from, by their names. */
import { corners, looking, type View } from "./camera";
import type { Bay, BayClip, P3 } from "./form";
import { add, dot, far, less, long, middle, placeOn, times, unit } from "./space";
import { bowOf, portOf } from "./words";

export const LOOKS = ["hatch", "above", "port", "starboard", "aft", "bow", "hose", "driver"] as const;
export type Look = (typeof LOOKS)[number];

/** As the page names them, after "look from" or as they are. */
export const LOOK_WORDS: Record<Look, string> = {
  hatch: "the hatch",
  above: "above",
  port: "port",
  starboard: "starboard",
  aft: "aft",
  bow: "the bow",
  hose: "along the hose",
  driver: "the driver",
};

/** The same where one stands, for the foot of the picture. */
export const standsAt = (look: Look): string => (look === "hose" ? "along the hose" : look === "driver" ? "along the driver" : `from ${LOOK_WORDS[look]}`);

export interface Aim extends Pick<View, "way" | "up"> {
  /** What must be in the picture. */
  points: P3[];
  /** Where the eye stands, where that is within the bay. */
  eye?: P3;
}

/** How far before a hose or a driver the eye stands [m]. */
const BEFORE = 0.02;

/** The first of some points along a way, and a little before it. */
function eyeBefore(points: readonly P3[], way: P3): P3 {
  let first: P3 = points[0] ?? [0, 0, 0];
  for (const point of points) {
    first = dot(point, way) < dot(first, way) ? point : first;
  }
  return add(first, times(way, -BEFORE));
}

/** How far one's look through a hatch leans from the plumb line at least, and how far it turns from straight athwart [rad]. */
const LEAN = (34 * Math.PI) / 180;
const ASIDE = (18 * Math.PI) / 180;

/** Where one looks from by itself. */
export const firstLook = (bay: Bay): Look => (bay.hatch === null ? "above" : "hatch");

/** The looks that there are for what is chosen: by its mark, else the first of its kind. */
export function looksFor(bay: Bay, chosen: string | null): Look[] {
  return LOOKS.filter((look) => aim(bay, look, chosen) !== null);
}

/** A named look; null where there is nothing to look from. */
export function aim(bay: Bay, look: Look, chosen: string | null): Aim | null {
  const [bow, port, up]: [P3, P3, P3] = [bowOf(bay.axes), portOf(bay.axes), [0, 0, 1]];
  const all = shown(bay);
  const minus = (a: P3): P3 => times(a, -1);
  switch (look) {
    case "above":
      return { ...looking(minus(up), port), points: all };
    case "port":
      return { ...looking(minus(port), up), points: all };
    case "starboard":
      return { ...looking(port, up), points: all };
    case "aft":
      return { ...looking(bow, up), points: all };
    case "bow":
      return { ...looking(minus(bow), up), points: all };
    case "hatch": {
      const from = bay.hatch === null ? null : middle(bay.hatch.corners);
      const to = middle(all);
      return from === null || to === null ? null : { ...looking(leaned(less(to, from), bow, port), up), points: all };
    }
    case "hose": {
      const run = runOf(bay, chosen) ?? bay.runs[0];
      const line = run?.parts.flatMap((part) => part.line) ?? [];
      const clip = bay.clips.find((one) => one.mark === chosen);
      if (line.length < 2) {
        return null;
      }
      const [first, last] = [line[0], line[line.length - 1]];
      // From the chosen end, else from where the water comes in.
      const turned = clip && first && last && far(clip.at, last) < far(clip.at, first);
      const way = placeOn(turned ? [...line].reverse() : line, 0.02)?.way ?? [1, 0, 0];
      return { ...looking(way, up), points: line, eye: eyeBefore(line, way) };
    }
    case "driver": {
      const clip = clipOf(bay, chosen);
      const way = clip ? driverWay(clip) : null;
      const noon = clip?.noon ?? up;
      return clip && way ? { ...looking(way, noon), points: around(clip), eye: eyeBefore(clip.way.flatMap((part) => part.points), way) } : null;
    }
  }
}

/** The chosen run, or that of the chosen joint. */
export function runOf(bay: Bay, chosen: string | null) {
  const own = bay.runs.find((run) => run.mark === chosen);
  const joint = bay.clips.find((clip) => clip.mark === chosen)?.joint;
  return own ?? (joint === undefined ? undefined : bay.runs.find((run) => joint.startsWith(`${run.run}.`)));
}

/** The chosen joint's clip, or the first of the chosen run that a tool comes to, or the first of all. */
export function clipOf(bay: Bay, chosen: string | null): BayClip | undefined {
  const own = bay.clips.find((clip) => clip.mark === chosen);
  const run = runOf(bay, chosen);
  const reached = bay.clips.filter((clip) => clip.way.length > 0);
  return own ?? reached.find((clip) => run !== undefined && clip.joint.startsWith(`${run.run}.`)) ?? reached[0];
}

/** Which way the driver points, from its handle to the screw. */
export function driverWay(clip: BayClip): P3 | null {
  const points = clip.way.flatMap((part) => part.points);
  const screw = clip.screw ?? clip.at;
  let handle: P3 | null = null;
  for (const point of points) {
    handle = handle === null || far(point, screw) > far(handle, screw) ? point : handle;
  }
  return handle === null || far(handle, screw) < 1e-6 ? null : unit(less(screw, handle));
}

/** What a picture of the whole must hold: bodies and runs, with the clips. */
export function shown(bay: Bay): P3[] {
  const runs = bay.runs.flatMap((run) => run.parts.flatMap((part) => part.line));
  const all = [...bay.bodies.flatMap((body) => body.faces.points), ...runs];
  return all.length > 0 ? all : corners(bay);
}

function around(clip: BayClip): P3[] {
  const points = [...clip.way.flatMap((part) => part.points), clip.at];
  const room = Math.max(clip.radius * 3, 0.08);
  const offs: P3[] = [[1, 0, 0], [0, 1, 0], [0, 0, 1]];
  return points.concat(offs.flatMap((off) => [add(clip.at, times(off, room)), add(clip.at, times(off, -room))]));
}

/** Down through a hatch, leaning at least a little: straight down would be the look from above. */
function leaned(way: P3, bow: P3, port: P3): P3 {
  const on = unit(way, [0, 0, -1]);
  const side: P3 = [on[0], on[1], 0];
  if (Math.atan2(long(side), Math.abs(on[2])) >= LEAN) {
    return on;
  }
  // One kneels at its side, that from which it leads in; over the middle, at starboard.
  const across = dot(side, port) < -0.15 ? times(port, -1) : port;
  const level = add(times(across, Math.cos(ASIDE)), times(bow, Math.sin(ASIDE)));
  const down = on[2] > 0 ? 1 : -1;
  return add(times(level, Math.sin(LEAN)), [0, 0, down * Math.cos(LEAN)]);
}

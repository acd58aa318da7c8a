/** Which way things lie in the picture, in words: there is no cross of arrows in its corner. */
import { rightOf, type View } from "./camera";
import type { P3 } from "./form";
import { dot, times } from "./space";

const X: P3 = [1, 0, 0];
const Y: P3 = [0, 1, 0];

interface Axes {
  x: string;
  y: string;
}

/** Forward, from the words of the axes. */
export function bowOf(axes: Axes): P3 {
  return pointing(axes, /forward|fore|bow/, /aft|stern/) ?? X;
}
/** To port. */
export function portOf(axes: Axes): P3 {
  return pointing(axes, /port/, /starboard/) ?? Y;
}

function pointing(axes: Axes, is: RegExp, against: RegExp): P3 | null {
  const both: [string, P3][] = [[axes.x, X], [axes.y, Y]];
  for (const [word, axis] of both) {
    if (against.test(word)) {
      return times(axis, -1);
    }
    if (is.test(word)) {
      return axis;
    }
  }
  return null;
}

/** How much of a direction must lie along a word for that word to be said [of the most]. */
const SECOND = 0.5;

/** Where a direction points in the picture: "to the right", "away and up". */
export function pointsTo(view: Pick<View, "way" | "up">, way: P3): string {
  const sides: [number, string][] = [
    [dot(way, rightOf(view)), "to the right"],
    [-dot(way, rightOf(view)), "to the left"],
    [dot(way, view.up), "up"],
    [-dot(way, view.up), "down"],
    [dot(way, view.way), "away"],
    [-dot(way, view.way), "towards you"],
  ];
  sides.sort((a, b) => b[0] - a[0]);
  const [first, second] = sides;
  if (!first) {
    return "";
  }
  return second && second[0] > SECOND * first[0] ? `${first[1]} and ${second[1]}` : first[1];
}

/** The line at the foot of the picture. */
export function orientation(view: Pick<View, "way" | "up">, axes: Axes): string {
  const bow = `bow ${pointsTo(view, bowOf(axes))}`;
  return `${bow}, port ${pointsTo(view, portOf(axes))}`;
}

/** Where one stands, for a view that has no name: "from above, aft and starboard". */
export function standing(view: Pick<View, "way">, axes: Axes): string {
  const from = times(view.way, -1);
  const sides: [number, string][] = [
    [from[2], "above"],
    [-from[2], "below"],
    [dot(from, bowOf(axes)), "the bow"],
    [-dot(from, bowOf(axes)), "aft"],
    [dot(from, portOf(axes)), "port"],
    [-dot(from, portOf(axes)), "starboard"],
  ];
  sides.sort((a, b) => b[0] - a[0]);
  const said = sides.filter(([share]) => share > 0.3).map(([, word]) => word);
  return `from ${said.length > 1 ? `${said.slice(0, -1).join(", ")} and ${said[said.length - 1] ?? ""}` : (said[0] ?? "")}`;
}

/** Which words stand in the picture, and where: none over another, the least important left out first. */

/** The most words in one picture. */
export const MOST = 24;

/** What a word is for; the later ones are left out first. */
export type Rank = "chosen" | "unsound" | "unmeasured" | "marginal" | "sound" | "figure" | "note" | "name";
const ORDER: readonly Rank[] = ["chosen", "unsound", "unmeasured", "marginal", "sound", "figure", "note", "name"];

export interface Wanted {
  id: string;
  rank: Rank;
  /** What it names, in the picture [px]. */
  x: number;
  y: number;
  /** How large the words are [px]. */
  width: number;
  height: number;
}
export interface Set extends Wanted {
  /** Upper left corner of the words [px]. */
  left: number;
  top: number;
  /** Whether the words stand so far off that a line must lead to their place. */
  led: boolean;
}
export interface Room {
  width: number;
  height: number;
}

interface Block {
  left: number;
  top: number;
  right: number;
  bottom: number;
}

/** Space between two words [px]. */
const GAP = 3;

/**
 * Sets the words round their places. What is chosen is set whatever it takes; of the rest those are left out that
 * find no room, or come after the first `most`. `taken` are fields that no word may stand on.
 */
export function setLabels(wanted: readonly Wanted[], room: Room, most = MOST, taken: readonly Block[] = []): Set[] {
  const sorted = wanted
    .map((one, at) => ({ one, at, rank: ORDER.indexOf(one.rank) }))
    .sort((a, b) => a.rank - b.rank || a.at - b.at);
  const out: Set[] = [];
  // No word stands on the place of a mark.
  const marks = wanted.filter((one) => ORDER.indexOf(one.rank) <= ORDER.indexOf("sound"));
  const spots = marks.map(({ id, x, y }) => ({ id, left: x - 4, top: y - 4, right: x + 4, bottom: y + 4 }));
  const full: Block[] = [...taken];
  for (const { one } of sorted) {
    const must = one.rank === "chosen";
    const seen = one.x >= 0 && one.y >= 0 && one.x <= room.width && one.y <= room.height;
    if (!must && (!seen || out.length >= most)) {
      continue;
    }
    const others = [...full, ...spots.filter((spot) => spot.id !== one.id)];
    const free = tries(one).find((spot) => fits(spot, one, room, others));
    const spot = free ?? (must ? held(one, room) : null);
    if (spot) {
      out.push({ ...one, left: spot.left, top: spot.top, led: spot.led });
      full.push(blockOf(spot, one));
    }
  }
  return out;
}

/** The words of a picture that moves: each as it stood beside its place when it rested. */
export function carried(wanted: readonly Wanted[], rested: ReadonlyMap<string, Set>, room: Room): Set[] {
  return wanted.flatMap((one) => {
    const had = rested.get(one.id);
    const spot = had ? { left: one.x + had.left - had.x, top: one.y + had.top - had.y, led: had.led } : null;
    const own = spot !== null && fits(spot, one, room, []) ? spot : one.rank === "chosen" ? held(one, room) : null;
    return own === null ? [] : [{ ...one, ...own }];
  });
}

interface Spot {
  left: number;
  top: number;
  led: boolean;
}

/** Places for words, the best first: beside, over, under, then further off with a line. */
function tries(one: Wanted): Spot[] {
  const { x, y, width: w, height: h } = one;
  const near = (d: number, led: boolean): Spot[] => [
    { left: x + d, top: y - h / 2, led },
    { left: x + d * 0.7, top: y - h - d * 0.5, led },
    { left: x - w - d, top: y - h / 2, led },
    { left: x - w - d * 0.7, top: y - h - d * 0.5, led },
    { left: x - w / 2, top: y - h - d, led },
    { left: x - w / 2, top: y + d, led },
    { left: x + d * 0.7, top: y + d * 0.5, led },
    { left: x - w - d * 0.7, top: y + d * 0.5, led },
  ];
  // What a body is called is seen at it, or not at all.
  return one.rank === "name" ? near(8, false) : [...near(10, false), ...near(26, true), ...near(44, true)];
}

function blockOf(spot: Spot, one: Wanted): Block {
  return { left: spot.left, top: spot.top, right: spot.left + one.width, bottom: spot.top + one.height };
}

function fits(spot: Spot, one: Wanted, room: Room, full: readonly Block[]): boolean {
  const own = blockOf(spot, one);
  if (own.left < 2 || own.top < 2 || own.right > room.width - 2 || own.bottom > room.height - 2) {
    return false;
  }
  return full.every(
    (other) => own.right + GAP <= other.left || other.right + GAP <= own.left || own.bottom + GAP <= other.top || other.bottom + GAP <= own.top,
  );
}

/** Inside the picture, as near to its place as that goes. */
function held(one: Wanted, room: Room): Spot {
  const keep = (value: number, most: number) => Math.min(Math.max(value, 2), Math.max(2, most));
  return { left: keep(one.x + 10, room.width - one.width - 2), top: keep(one.y - one.height / 2, room.height - one.height - 2), led: true };
}

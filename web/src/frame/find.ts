/** Finding a mark by what is written on it, by its key, or by a word of its title. */
import type { Mark } from "../sent";

/** The marks that fit, the nearest first: the mark itself, what begins so, what holds it. */
export function find(marks: readonly Mark[], words: string): Mark[] {
  const sought = words.trim().toLowerCase();
  if (sought === "") {
    return [...marks];
  }
  const rank = (mark: Mark): number => {
    const own = mark.mark.toLowerCase();
    const all = `${own} ${mark.key} ${mark.title}`.toLowerCase();
    if (own === sought || mark.key === sought) return 0;
    if (own.startsWith(sought)) return 1;
    if (all.split(/[\s.,()]+/).some((word) => word.startsWith(sought))) return 2;
    return all.includes(sought) ? 3 : 4;
  };
  return marks
    .map((mark, at) => ({ mark, at, rank: rank(mark) }))
    .filter((one) => one.rank < 4)
    .sort((a, b) => a.rank - b.rank || a.at - b.at)
    .map((one) => one.mark);
}

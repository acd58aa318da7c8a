/** What a step is called, as it stands in the title block. */

/** Longest label; the program cuts what is longer. */
export const LONGEST = 40;

/** What is done and where; where room is short, what is done is cut, never where. */
export function labelOf(what: string, where: string | null): string {
  const tail = where === null ? "" : `: ${where}`;
  const room = Math.max(LONGEST - [...tail].length, 1);
  const letters = [...what];
  return letters.length <= room ? `${what}${tail}` : `${letters.slice(0, room - 1).join("").trimEnd()}…${tail}`;
}

/** When the queue is tried again after the link was not there. */

/** Waits in seconds, one after the other; the last stands from then on. */
export const WAITS = [1, 2, 4, 8, 15] as const;

/** How long to wait after so many tries without an answer, in milliseconds. */
export function wait(missed: number): number {
  const at = Math.min(Math.max(missed, 1), WAITS.length) - 1;
  return (WAITS[at] ?? 15) * 1000;
}

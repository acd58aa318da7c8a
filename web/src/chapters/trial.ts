/** What a trial asks for: sliders that write nothing. */

import type { TrialAsk, TrialBegins, Units } from "../sent";

/** Where the sliders stand; null leaves what the boat file says. */
export interface Tried {
  /** Temperature of the sea in the reader's degrees. */
  sea: number | null;
  /** Share of the engine's power, in per cent. */
  load: number | null;
  /** What sits on the coolers: a place in `FOULING`. */
  fouling: number | null;
}

export const UNTRIED: Tried = { sea: null, load: null, fouling: null };

/** Ends of the slider for the sea, in the reader's degrees. */
export const SEA: Record<Units, { from: number; to: number; unit: string }> = {
  metric: { from: 0, to: 40, unit: "°C" },
  imperial: { from: 32, to: 104, unit: "°F" },
};

/** Where the sliders stand before they are touched: at what is reckoned with in the state, as the program tells it. */
export function begins(own: TrialBegins | undefined, units: Units): { sea: number; load: number; fouling: number } {
  const { from } = SEA[units];
  const sea = units === "metric" ? own?.sea_celsius : own?.sea_fahrenheit;
  return { sea: sea ?? from, load: own?.load ?? 100, fouling: own?.fouling ?? 0 };
}

/** What sits on a cooler, from nothing to the worst, in the words of the boat file. */
export const FOULING = ["clean", "slime", "silt", "scale", "growth"] as const;

/** Whether any slider is off. */
export const tried = (now: Tried): boolean => now.sea !== null || now.load !== null || now.fouling !== null;

/** The sliders as they are asked: the load goes out as 0 to 1, the sea with its unit. */
export function asked(now: Tried, units: Units): Pick<TrialAsk, "sea" | "load" | "fouling"> {
  return {
    ...(now.sea === null ? {} : { sea: `${now.sea} ${SEA[units].unit}` }),
    ...(now.load === null ? {} : { load: now.load / 100 }),
    ...(now.fouling === null ? {} : { fouling: now.fouling }),
  };
}

/**
 * One call at a time, and of those that wait only the latest: what lies between is never asked.
 */
export function oneAtATime<A, T>(call: (ask: A) => Promise<T>, done: (answer: T) => void, failed: (why: unknown) => void): (ask: A) => void {
  let flying = false;
  let due: { ask: A } | null = null;
  const fly = (ask: A): void => {
    flying = true;
    call(ask)
      .then((answer) => {
        // An answer to what is no longer asked is not shown.
        if (due === null) {
          done(answer);
        }
      }, failed)
      .finally(() => {
        flying = false;
        const next = due;
        due = null;
        if (next !== null) {
          fly(next.ask);
        }
      });
  };
  return (ask) => {
    if (flying) {
      due = { ask };
    } else {
      fly(ask);
    }
  };
}

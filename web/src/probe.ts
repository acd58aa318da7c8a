/** How the page finds back to a program that did not answer: it asks again, more and more seldom, until somebody does. */

const WAITS = [1, 2, 5] as const;

/** How long to wait before trying again [ms]: 1, 2, then every 5 s. */
export function wait(tries: number): number {
  return (WAITS[Math.min(tries, WAITS.length - 1)] ?? 5) * 1000;
}

export interface Probe {
  /** Begins to ask; one that asks already goes on as it does. */
  start(): void;
  stop(): void;
}

/** `ask` tells whether anybody answered, whatever the answer; then `back` is told, and nothing is asked any more. */
export function probe(ask: () => Promise<boolean>, back: () => void): Probe {
  let tries = 0;
  let timer: ReturnType<typeof setTimeout> | undefined;
  /** What asks now; another thing means that this one was stopped meanwhile. */
  let under: object | null = null;
  const later = (mine: object) => {
    timer = setTimeout(() => void once(mine), wait(tries));
    tries += 1;
  };
  const once = async (mine: object) => {
    const answered = await ask().catch(() => false);
    if (under !== mine) {
      return;
    }
    if (answered) {
      stop();
      back();
    } else {
      later(mine);
    }
  };
  const stop = () => {
    clearTimeout(timer);
    under = null;
    tries = 0;
  };
  return {
    start() {
      if (under === null) {
        under = {};
        later(under);
      }
    },
    stop,
  };
}

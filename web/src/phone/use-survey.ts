/** What the survey on a phone knows and keeps: the way, where one is on it, the draft, and the queue. */
import { useCallback, useEffect, useMemo, useRef, useState, useSyncExternalStore } from "react";

import { Gone, Refused, api } from "../api";
import type { Page, Survey, Value } from "../sent";
import { missed } from "../chapters/parts";
import { usePage } from "../state";
import { firstOpen, nextOpen, open, padOf, way, type Ask } from "./ends";
import { begin, unitsOf, type Pad, type PadKind } from "./pad";
import { boatName, Queue, type Send, type Standing } from "./queue";
import { browserStore, type Store } from "./store";

/** How long the boat's computer may take to answer before the link counts as cut. */
const PATIENCE = 10_000;

/** The client's calls, in the words of the queue. */
const send: Send = async (entries, closed) => {
  const own = new AbortController();
  const end = () => own.abort();
  // Older phones can't join two signals into one.
  const patience = setTimeout(end, PATIENCE);
  closed.addEventListener("abort", end);
  try {
    const answer = await api.entries(entries, own.signal);
    return { kind: "outcomes", outcomes: answer.outcomes };
  } catch (fault) {
    if (fault instanceof Refused) {
      return { kind: "refused", why: fault.why, key: fault.status === 401 || fault.status === 403 };
    }
    throw fault;
  } finally {
    clearTimeout(patience);
    closed.removeEventListener("abort", end);
  }
};

let shared: Store | null = null;
/** The store of this browser, opened once. */
export function storeOf(): Store {
  shared ??= browserStore();
  return shared;
}

/** The queue of one boat, at work as long as the survey is open. */
export function useQueue(boat: Page["boat"]): { queue: Queue; standing: Standing } {
  const name = boatName(boat);
  const queue = useMemo(() => new Queue(storeOf(), send, name), [name]);
  useEffect(() => {
    void queue.open();
    const wake = () => {
      if (document.visibilityState === "visible") {
        queue.wake();
      }
    };
    document.addEventListener("visibilitychange", wake);
    addEventListener("online", wake);
    addEventListener("pageshow", wake);
    return () => {
      document.removeEventListener("visibilitychange", wake);
      removeEventListener("online", wake);
      removeEventListener("pageshow", wake);
      queue.close();
    };
  }, [queue]);
  const standing = useSyncExternalStore(queue.listen, queue.get);
  return { queue, standing };
}

function remembered(name: string): string | null {
  try {
    return localStorage.getItem(name);
  } catch {
    return null;
  }
}
/** Something small that the next visit begins with; without a store it holds for this visit. */
export function remember(name: string, value: string): void {
  try {
    localStorage.setItem(name, value);
  } catch {
    // Nothing that anybody measured is lost by it.
  }
}

const WHERE = "hosewright.survey-at";
const unitKey = (kind: PadKind): string =>
  `hosewright.pad-unit.${kind === "height" ? "length" : kind}`;

/** What the words of a box hold while they are written. */
export interface Draft {
  pad: Pad;
  words: string;
  instrument: string | null;
  note: string;
}

export interface OnTheWay {
  survey: Survey | null;
  /** Why there is no survey. */
  missing: string | null;
  asks: Ask[];
  ends: number;
  /** Boxes that are parts of one written line, and are filled at the desk. */
  atDesk: number;
  at: number;
  ask: Ask | null;
  value: Value | null;
  /** Null until what was pressed before is read back. */
  draft: Draft | null;
  kind: PadKind | "words";
  units: string[];
  /** Why what is pressed is not stored before it is kept; null where it is. */
  unkept: string | null;
  go(to: number): void;
  /** The next box that is open; the next of all where none is. */
  next(): void;
  onward(passed?: string): void;
  change(draft: Draft): void;
  /** The value is kept: its draft goes. */
  clear(): Promise<void>;
  again(): void;
}

export function useWay(page: Page, standing: Standing, units: "metric" | "imperial"): OnTheWay {
  const boat = boatName(page.boat);
  const returns = usePage((state) => state.returns);
  const [survey, setSurvey] = useState<Survey | null>(null);
  const [missing, setMissing] = useState<string | null>(null);
  const [turn, setTurn] = useState(0);
  const [at, setAt] = useState(-1);
  const [written, setWritten] = useState<{ place: string; kind: string; draft: Draft } | null>(null);
  const [unkept, setUnkept] = useState<string | null>(null);
  const [values, setValues] = useState<ReadonlyMap<string, Value>>(new Map());
  const [passed, setPassed] = useState<ReadonlySet<string>>(new Set());
  const over = useRef(new Set<string>());
  const placeRef = useRef<string | null>(null);

  useEffect(() => {
    const gone = new AbortController();
    api.survey(page.arrangement, gone.signal).then(
      (answer) => {
        setSurvey(answer);
        setMissing(null);
        // Boxes come and go with what is measured: who stands before one stays there, in the midst of a value too.
        const here = placeRef.current;
        if (here !== null) {
          setAt(way(answer).asks.findIndex((ask) => ask.box.place === here));
        }
      },
      (fault: unknown) => {
        if (!gone.signal.aborted) {
          missed(fault);
          setMissing(fault instanceof Gone ? "The boat’s computer does not answer." : String(fault));
        }
      },
    );
    return () => gone.abort();
  }, [page.arrangement, page.number, standing.over, turn, returns]);

  const { asks, ends, atDesk } = useMemo(
    () => (survey ? way(survey) : { asks: [], ends: 0, atDesk: 0 }),
    [survey],
  );

  const kept = useMemo(() => {
    for (const entry of standing.entries) {
      if (entry.boat === boat) {
        over.current.add(entry.place);
      }
    }
    return new Set(over.current);
  }, [standing.entries, boat]);

  // Begins where it was left while that box is open, else at the one that would settle the most.
  useEffect(() => {
    if (at >= 0 || asks.length === 0) {
      return;
    }
    const last = remembered(WHERE);
    const there = asks.findIndex((ask) => ask.box.place === last && open(ask, kept));
    const ranked = survey?.next.map((next) => next.place.path) ?? [];
    setAt(there >= 0 ? there : Math.max(0, firstOpen(asks, ranked, kept)));
  }, [asks, at, kept, survey]);

  const ask = asks[at] ?? null;
  const place = ask?.box.place ?? null;
  placeRef.current = place;
  const value = place === null ? null : (values.get(place) ?? null);
  const kind = ask === null ? "words" : padOf(ask.box, value?.units ?? []);

  // What the box takes is asked ahead of time, so that a cut link stops nobody.
  useEffect(() => {
    const gone = new AbortController();
    const ahead = [0, 1, 2, 3, 4, 5]
      .map((step) => asks[at + step]?.box.place)
      .filter((one): one is string => one !== undefined && !values.has(one));
    void (async () => {
      for (const one of ahead) {
        try {
          const answer = await api.value(one, gone.signal);
          setValues((had) => new Map(had).set(one, answer));
        } catch (fault) {
          // The pad works without; the instrument's own width is not shown then.
          if (!(fault instanceof Refused)) {
            return;
          }
        }
      }
    })();
    return () => gone.abort();
    // Values are left out: each that comes in would begin the row anew.
    // eslint-disable-next-line react-hooks/exhaustive-deps
  }, [asks, at, page.number]);

  // What was written for another box is none of this one's.
  const draft = written !== null && written.place === place && written.kind === kind ? written.draft : null;

  const named = useMemo(
    () => (kind === "words" ? [] : unitsOf(kind, value?.units ?? [])),
    [kind, value],
  );
  const first = useCallback((): Draft => {
    const last = kind === "words" ? null : remembered(unitKey(kind));
    const own = last ?? (units === "imperial" ? named[1] : named[0]);
    return {
      pad: kind === "words" ? begin("number") : begin(kind, own, value?.units ?? []),
      words: "",
      instrument: ask?.box.instrument ?? value?.instrument ?? null,
      note: "",
    };
  }, [ask, kind, named, units, value]);
  const firstRef = useRef(first);
  firstRef.current = first;

  useEffect(() => {
    if (place === null) {
      return;
    }
    let here = true;
    remember(WHERE, place);
    const set = (own: Draft | null) => {
      const fits = own !== null && (kind === "words" || own.pad.kind === kind);
      if (here) {
        setWritten({ place, kind, draft: fits ? own : firstRef.current() });
      }
    };
    storeOf()
      .draft(boat, place)
      .then(
        (own) => set((own?.pad as Draft | undefined) ?? null),
        (fault: unknown) => {
          setUnkept(String(fault));
          set(null);
        },
      );
    return () => {
      here = false;
    };
  }, [boat, place, kind]);

  return {
    survey,
    missing,
    asks,
    ends,
    atDesk,
    at,
    ask,
    value,
    draft,
    kind,
    units: named,
    unkept,
    go: (to) => {
      if (asks.length > 0) {
        setAt((to + asks.length) % asks.length);
      }
    },
    next: () => {
      const done = new Set(over.current);
      if (place !== null) {
        done.add(place);
      }
      const to = nextOpen(asks, at, done);
      if (asks.length > 0) {
        setAt(to < 0 ? (at + 1) % asks.length : to);
      }
    },
    onward: (by) => {
      const now = new Set(passed);
      if (by !== undefined) {
        now.add(by);
        setPassed(now);
      }
      const done = new Set(over.current);
      if (place !== null) {
        done.add(place);
      }
      let to = nextOpen(asks, at, done, now);
      if (to < 0 && now.size > 0) {
        // All that is left was put off: it comes round once more.
        setPassed(new Set());
        to = nextOpen(asks, at, done);
      }
      setAt(to < 0 ? asks.length : to);
    },
    change: (next) => {
      if (place === null) {
        return;
      }
      setWritten({ place, kind, draft: next });
      if (kind !== "words" && next.pad.unit !== draft?.pad.unit) {
        remember(unitKey(kind), next.pad.unit);
      }
      // Every key is down before the next: writes of one store come after one another.
      storeOf()
        .setDraft(boat, place, next)
        .then(
          () => setUnkept(null),
          (fault: unknown) => setUnkept(String(fault)),
        );
    },
    clear: async () => {
      if (place !== null) {
        over.current.add(place);
        await storeOf().setDraft(boat, place, null);
      }
    },
    again: () => setTurn((now) => now + 1),
  };
}

/** How a strip is asked for: the latest question wins, and the old drawing stays until it is answered. */
import { useEffect, useRef, useState } from "react";
import { api, latest } from "../api";
import type { Drawing, Page, StripAsk } from "../sent";
import type { Form } from "../frame/size";
import { heed, usePage } from "../state";
import { isStale, type Fetched } from "./stale";

/** The least width of a piece [px]: for a mouse, for a finger. */
const NARROW = { mouse: 40, finger: 56 };

/** The arrangement as found, with which the others are compared. */
export const FOUND = "before";

/** What can be drawn behind an arrangement. */
export function behindOf(answer: Page | null, arrangement: string | null): string | null {
  const there = answer?.arrangements.some((one) => one.key === FOUND) ?? false;
  return there && arrangement !== FOUND ? FOUND : null;
}

/** What is asked of a strip here: how wide and in which form it is drawn is always said. */
export type Asked = StripAsk & { width: number; form: Form };

export interface Got<A> {
  drawing: Drawing;
  /** To what it is the answer. */
  of: A;
}

/**
 * The drawing for the sheet as it stands; `null` asks nothing. Chances that settle move nothing in it: it is asked for
 * anew only where a grade in it is another. `call` must be the same at every turn.
 */
export function useDrawn<A>(asked: A | null, call: (asked: A, signal: AbortSignal) => Promise<Drawing>): Got<A> | null {
  const answer = usePage((state) => state.page);
  const had = useRef<Fetched | null>(null);
  const [got, setGot] = useState<Got<A> | null>(null);
  const [fetch] = useState(() => latest((signal: AbortSignal, ask: A) => call(ask, signal)));
  const text = asked === null ? null : JSON.stringify(asked);
  useEffect(() => {
    if (text === null || answer === null || !isStale(had.current, text, answer)) {
      return;
    }
    const of = JSON.parse(text) as A;
    const mine: Fetched = { text, answer, drawing: null };
    had.current = mine;
    fetch(of).then(
      (drawing) => {
        mine.drawing = drawing;
        setGot({ drawing, of });
      },
      (fault: unknown) => {
        // What was not answered is asked again with the next answer about the boat.
        if (had.current === mine) {
          had.current = null;
        }
        heed(fault);
      },
    );
  }, [fetch, text, answer]);
  return text === null ? null : got;
}

/** A strip, as above. */
export const useDrawing = (asked: Asked | null): Got<Asked> | null => useDrawn(asked, api.strip);

/** What the sheet asks about the way that lies along its foot; null while nothing can be asked. */
export function useAsk(width: number, form: Form): Asked | null {
  const has = usePage((state) => state.page?.boat != null);
  const arrangement = usePage((state) => state.arrangement);
  const state = usePage((now) => now.state);
  const chapter = usePage((now) => now.chapter);
  const units = usePage((now) => now.units);
  const stretch = usePage((now) => now.stretch);
  const trueLengths = usePage((now) => now.trueLengths);
  const branch = usePage((now) => now.branch);
  const heel = usePage((now) => now.heel);
  const trim = usePage((now) => now.trim);
  const before = usePage((now) => (now.behind ? behindOf(now.page, now.arrangement) : null));
  if (!has || width < 80) {
    return null;
  }
  const finger = matchMedia("(pointer: coarse)").matches;
  return {
    arrangement,
    state,
    chapter,
    width: Math.round(width * stretch),
    form,
    least: trueLengths ? 0 : finger ? NARROW.finger : NARROW.mouse,
    units,
    branch,
    heel: heel === 0 ? null : heel,
    trim: trim === 0 ? null : trim,
    before,
    level: false,
  };
}

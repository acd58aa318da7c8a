/** How a strip is asked for: the latest question wins, and the old drawing stays until it is answered. */
import { useEffect, useState } from "react";
import { api, latest } from "../api";
import type { Drawing, Page, StripAsk } from "../sent";
import type { Form } from "../frame/size";
import { heed, usePage } from "../state";

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

export interface Got {
  drawing: Drawing;
  /** To what it is the answer. */
  of: Asked;
}

/** The drawing for the sheet as it stands; `null` asks nothing. */
export function useDrawing(asked: Asked | null): Got | null {
  const number = usePage((state) => state.page?.number ?? 0);
  const settled = usePage((state) => state.page?.settled ?? false);
  const [got, setGot] = useState<Got | null>(null);
  const [fetch] = useState(() => latest((signal: AbortSignal, ask: StripAsk) => api.strip(ask, signal)));
  const text = asked === null ? null : JSON.stringify(asked);
  useEffect(() => {
    if (text !== null) {
      const of = JSON.parse(text) as Asked;
      fetch(of).then((drawing) => setGot({ drawing, of }), heed);
    }
  }, [fetch, text, number, settled]);
  return text === null ? null : got;
}

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

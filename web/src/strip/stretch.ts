/**
 * The length of the strip. Pinch, wheel, bar and keys all do the same: x is stretched, heights stay.
 * Each stretch is a new question to the program; until it is answered the old drawing is scaled.
 */
import { useEffect, type RefObject } from "react";
import { page } from "../state";

/** As wide as the sheet, and how many times that at most. */
export const LEAST = 1;
export const MOST = 6;

/** A stretch that can be asked for; one that is all but whole is whole. */
export function fit(stretch: number): number {
  const within = Math.min(MOST, Math.max(LEAST, Number.isFinite(stretch) ? stretch : LEAST));
  return within < 1.03 ? LEAST : Math.round(within * 100) / 100;
}

export function stretchTo(stretch: number): void {
  page.set({ stretch: fit(stretch) });
}

/** Longer or shorter along x; never shorter than the sheet. */
export function stretchBy(by: number): void {
  stretchTo(page.get().stretch * by);
}

/**
 * How wide a drawing is shown until the one that was asked for is there. One that is wider than it
 * was asked to be has its pieces at their least width, and grows only once more is asked than that.
 */
export function shownWidth(drawn: number, was: number, is: number): number {
  if (was === is) {
    return drawn;
  }
  return drawn > was + 1 ? Math.max(drawn, is) : is;
}

/** What a turn of the wheel does to the stretch. */
export function turned(event: { deltaY: number; deltaMode: number; ctrlKey: boolean }): number {
  const pixels = event.deltaY * (event.deltaMode === 0 ? 1 : event.deltaMode === 1 ? 16 : 400);
  // Two fingers on a pad come as a wheel with Ctrl, in small steps.
  return Math.exp(-pixels * (event.ctrlKey ? 0.01 : 0.0015));
}

/** What stays where it is while all else moves: a share of the whole length, so far from the left edge. */
export interface Held {
  share: number;
  at: number;
}

/** Pinch and wheel over the strip. */
export function useGestures(box: RefObject<HTMLDivElement | null>, held: RefObject<Held | null>): void {
  useEffect(() => {
    const one = box.current;
    if (one === null) {
      return;
    }
    const hold = (x: number) => {
      const at = x - one.getBoundingClientRect().left;
      held.current = { share: (one.scrollLeft + at) / Math.max(1, one.scrollWidth), at };
    };
    /** Whether a turn of the wheel has to scroll something up and down. */
    const scrolls = () =>
      one.closest(".hand") !== null ||
      (getComputedStyle(one).overflowY === "auto" && one.scrollHeight > one.clientHeight + 1);
    const wheel = (event: WheelEvent) => {
      const sideways = event.shiftKey || Math.abs(event.deltaX) > Math.abs(event.deltaY);
      if (sideways || (!event.ctrlKey && scrolls())) {
        return;
      }
      event.preventDefault();
      hold(event.clientX);
      stretchBy(turned(event));
    };
    let from: { apart: number; stretch: number } | null = null;
    const apart = (touches: TouchList) => {
      const [a, b] = [touches[0], touches[1]];
      return a && b ? Math.max(40, Math.abs(a.clientX - b.clientX)) : 40;
    };
    const begin = (event: TouchEvent) => {
      from = event.touches.length === 2 ? { apart: apart(event.touches), stretch: page.get().stretch } : null;
    };
    const move = (event: TouchEvent) => {
      const [a, b] = [event.touches[0], event.touches[1]];
      if (from === null || !a || !b) {
        return;
      }
      event.preventDefault();
      hold((a.clientX + b.clientX) / 2);
      stretchTo((from.stretch * apart(event.touches)) / from.apart);
    };
    const end = () => {
      from = null;
    };
    one.addEventListener("wheel", wheel, { passive: false });
    one.addEventListener("touchstart", begin, { passive: true });
    one.addEventListener("touchmove", move, { passive: false });
    one.addEventListener("touchend", end);
    one.addEventListener("touchcancel", end);
    return () => {
      one.removeEventListener("wheel", wheel);
      one.removeEventListener("touchstart", begin);
      one.removeEventListener("touchmove", move);
      one.removeEventListener("touchend", end);
      one.removeEventListener("touchcancel", end);
    };
  }, [box, held]);
}

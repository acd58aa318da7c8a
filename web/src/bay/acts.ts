/** What the hands do with the picture: looks, turns, cuts, measures. */
import { wordsOf } from "../chapters/parts";
import { latest } from "../api";
import { page, say } from "../state";
import { calls } from "./calls";
import { fitted, nearer, partway, shift, turn, type Size, type View } from "./camera";
import type { Bay, MeasureEnd, P3 } from "./form";
import type { Engine } from "./pose";
import { aim, LOOKS, looksFor, standsAt, type Look } from "./looks";
import { reachOf, stepped, type Cut } from "./section";
import { bayStore, stepSize, type End } from "./store";
import { orientation } from "./words";

/** The field that the picture has now. */
let field: Size = { width: 800, height: 440 };
export function setField(size: Size): void {
  field = size;
}

/** How long a turn to a named look takes [ms]; none where less motion is wanted. */
const TURN = 120;
const MORE = 1.3;
export const DEGREES_15 = Math.PI / 12;

let flight = 0;
/** Where a swing under way will end. */
let goal: View | null = null;

/** Looks from a named place. */
export function lookFrom(bay: Bay, look: Look, chosen: string | null, swing = true): void {
  const to = aim(bay, look, chosen);
  if (!to) {
    return;
  }
  const next: View = { ...fitted(to, to.points, field), ...(to.eye ? { eye: to.eye } : {}) };
  bayStore.set({ look });
  fly(next, swing);
  say(`${standsAt(look)}: ${orientation(next, bay.axes)}`);
}

/** The next of the named looks. */
export function nextLook(bay: Bay, chosen: string | null): void {
  const there = looksFor(bay, chosen);
  const now = bayStore.get().look;
  const at = now === null ? -1 : there.indexOf(now);
  const next = there[(at + 1) % Math.max(there.length, 1)] ?? LOOKS[1];
  lookFrom(bay, next, chosen);
}

function fly(to: View, swing: boolean): void {
  cancelAnimationFrame(flight);
  const from = bayStore.get().view;
  const still = matchMedia("(prefers-reduced-motion: reduce)").matches;
  if (from === null || still || !swing) {
    goal = null;
    bayStore.set({ view: to, moving: false });
    return;
  }
  goal = to;
  const began = performance.now();
  const step = () => {
    const share = Math.min(1, (performance.now() - began) / TURN);
    bayStore.set({ view: partway(from, to, share), moving: share < 1 });
    if (share < 1) {
      flight = requestAnimationFrame(step);
    } else {
      goal = null;
    }
  };
  step();
}

function move(change: (view: View) => View, free: boolean, held: boolean): void {
  cancelAnimationFrame(flight);
  const { view: now, look } = bayStore.get();
  // A hand that comes in the midst of a swing goes on from its end.
  const view = goal ?? now;
  goal = null;
  if (view) {
    bayStore.set({ view: change(view), look: free ? null : look, moving: held });
  }
}

/** Turned [rad]; `held` while a hand still has hold of it. */
export const turnBy = (right: number, down: number, held = false): void => move((view) => turn(view, right, down), true, held);
/** Shifted [px]. */
export const shiftBy = (right: number, down: number, held = false): void => move((view) => shift(view, right, down), false, held);
export const nearerBy = (by: number, x?: number, y?: number, held = false): void => move((view) => nearer(view, field, by, x, y), false, held);
export const near = (): void => nearerBy(MORE);
export const away = (): void => nearerBy(1 / MORE);
/** A share of the picture at a time. */
export const shiftShare = (right: number, down: number): void => shiftBy((right * field.width) / 8, (down * field.height) / 8);
export const letGo = (): void => bayStore.set({ moving: false });

/** All of it in the picture again. */
export function whole(bay: Bay, chosen: string | null): void {
  const { view, look } = bayStore.get();
  const named = look === null ? null : aim(bay, look, chosen);
  const points = named?.points ?? aim(bay, "above", null)?.points ?? [];
  if (view) {
    fly(fitted(named ?? view, points, field), true);
  }
}

/** Begins a cut in the middle of the bay, or ends it. */
export function setCut(bay: Bay, cut: Cut | null): void {
  if (cut === null) {
    bayStore.set({ cut });
    return;
  }
  const [least, most] = reachOf(cut, bay.axes, bay);
  bayStore.set({ cut, cutAt: Math.round((least + most) * 50) / 100 });
}

export function stepCut(bay: Bay, sense: 1 | -1, held: boolean): void {
  const { cut, cutAt, fine } = bayStore.get();
  if (cut !== null) {
    bayStore.set({ cutAt: stepped(cutAt, sense * stepSize(fine, held), reachOf(cut, bay.axes, bay)) });
  }
}

const ask = latest((signal: AbortSignal, from: MeasureEnd, to: MeasureEnd) => {
  const { arrangement, units } = page.get();
  return calls.measure({ from, to, ...(arrangement === null ? {} : { arrangement }) }, units, signal);
});
/** A mark is known by its key, a point by its place and what it lies on. */
const asEnd = ({ key, at, on }: End): MeasureEnd => (on === undefined && key !== undefined ? { key } : { at, ...(key === undefined ? {} : { key }), on: on ?? "body" });

/** Where the section stands, as the program words it. */
export const placeOf = latest((signal: AbortSignal, to: P3) => calls.measure({ from: { at: [0, 0, 0] }, to: { at: to } }, page.get().units, signal).then((measured) => measured.text));

/** What was measured of another boat, another arrangement or before a change is no answer any more. */
export function measureAnew(about: string): void {
  if (bayStore.get().about !== about) {
    bayStore.set({ about, ends: [], measured: null, fault: null });
  }
}

/** Moves the engine; what was measured holds where it was measured. */
export const setEngine = (engine: Engine): void => bayStore.set({ engine, ends: [], measured: null, fault: null });

export function setMeasuring(measuring: boolean): void {
  bayStore.set({ measuring, ends: [], measured: null, fault: null });
}

/** Takes one end of what is measured; the second one asks, a third begins anew. */
export function takeEnd(end: End): void {
  const { ends: had } = bayStore.get();
  const ends = had.length >= 2 ? [end] : [...had, end];
  bayStore.set({ ends, measured: null, fault: null });
  measureNow();
}

/** Puts one of both ends. */
export function putEnd(at: 0 | 1, end: End): void {
  const [a, b] = bayStore.get().ends;
  const ends = at === 0 ? (b ? [end, b] : [end]) : a ? [a, end] : [end];
  bayStore.set({ ends, measured: null, fault: null });
  measureNow();
}

export function measureNow(): void {
  const [a, b] = bayStore.get().ends;
  if (!a || !b) {
    return;
  }
  ask(asEnd(a), asEnd(b)).then(
    (measured) => {
      bayStore.set({ measured, fault: null });
      say([measured.text, measured.deviation].filter((one) => one !== null).join(" "));
    },
    (why: unknown) => {
      if (!(why instanceof DOMException)) {
        bayStore.set({ fault: wordsOf(why) });
      }
    },
  );
}

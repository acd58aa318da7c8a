/** What the strip shows, in words over it; how long it is, and what a heel does, in words under it. */
import { useEffect, useRef, type MouseEvent, type PointerEvent } from "react";
import { api } from "../api";
import type { Drawing, Mark, Tee } from "../sent";
import { heed, markOf, page, usePage } from "../state";
import { FOUND, behindOf } from "./ask";
import { LEAST, MOST, stretchBy, stretchTo } from "./stretch";

/** Heel and trim go no farther, and by such steps [°]. */
const HEEL = { by: 1, most: 30 };
const TRIM = { by: 0.5, most: 5 };

/** Over the strip: what is laid out, the lanes, heel and trim. */
export function StripBar({ branch, drawing }: { branch: string | null; drawing: Drawing | null }) {
  const form = usePage((state) => state.form);
  const trueLengths = usePage((state) => state.trueLengths);
  const heel = usePage((state) => state.heel);
  const trim = usePage((state) => state.trim);
  const chosen = usePage((state) => markOf(state.page, state.chosen));
  const unrolled = usePage((state) => state.unrolled);
  const behind = usePage((state) => state.behind);
  const found = usePage((state) => behindOf(state.page, state.arrangement));
  const tees = drawing?.tees ?? [];
  const seen = tees.find((tee) => tee.key === unrolled);
  const off =
    drawing !== null &&
    chosen?.kind === "joint" &&
    !drawing.marks.some((mark) => mark.key === chosen.key) &&
    !(seen && standsOn(seen, chosen.mark));
  return (
    <div className="strip-bar" role="group" aria-label="How the loop is laid out">
      {branch === null ? (
        <span className="soft said">the loop, from the pump’s delivery to its suction</span>
      ) : (
        <button type="button" onClick={() => page.set({ branch: null })}>
          main loop again
        </button>
      )}
      {off && chosen && (
        <button type="button" onClick={() => void layOut(chosen)}>
          lay out {chosen.mark}
        </button>
      )}
      {branch === null && tees.map((tee) => <Unroll key={tee.key} tee={tee} open={tee.key === unrolled} />)}
      <span className="gap" />
      <Stepper name="heel" value={heel} steps={HEEL} set={(to) => page.set({ heel: to })} low="port" high="starboard" />
      <Stepper name="trim" value={trim} steps={TRIM} set={(to) => page.set({ trim: to })} low="by the stern" high="by the head" />
      {found !== null && branch === null && (
        <button type="button" aria-pressed={behind} onClick={() => page.set({ behind: !behind })}>
          compare with {FOUND}
        </button>
      )}
      <button type="button" aria-pressed={trueLengths} onClick={() => page.set({ trueLengths: !trueLengths })}>
        true lengths
      </button>
      <button
        type="button"
        aria-pressed={form === "tall"}
        onClick={() => page.set({ form: form === "tall" ? null : "tall" })}
      >
        tall
      </button>
    </div>
  );
}

/** The flag of a branch as a word to press. */
function Unroll({ tee, open }: { tee: Tee; open: boolean }) {
  return (
    <button
      type="button"
      aria-expanded={open}
      className={open ? "unrolled" : ""}
      onClick={() => page.set({ unrolled: open ? null : tee.key })}
    >
      + {tee.title}
    </button>
  );
}

/** Whether a joint stands on a branch: the branch is titled by the letters of its runs. */
export function standsOn(tee: Tee, mark: string): boolean {
  const letters = /^[A-Z]+/.exec(mark)?.[0];
  return letters !== undefined && tee.title.split(" ").includes(letters);
}

/** The next angle, on the grid of its steps. */
export function stepped(value: number, by: number, most: number): number {
  const to = Math.round((value + by) / Math.abs(by)) * Math.abs(by);
  return Math.min(most, Math.max(-most, to));
}

function Stepper({ name, value, steps, set, low, high }: StepperProps) {
  const now = useRef(value);
  now.current = value;
  const go = (by: number) => {
    const to = stepped(now.current, by, steps.most);
    now.current = to;
    set(to);
  };
  const less = useHeld(() => go(-steps.by));
  const more = useHeld(() => go(steps.by));
  const words = value === 0 ? "0°" : `${Math.abs(value)}° ${value < 0 ? low : high}`;
  return (
    <span className={`stepper ${name}`} role="group" aria-label={`${name}: ${words}`}>
      <button type="button" aria-label={`${name}, more ${low}`} disabled={value <= -steps.most} {...less}>
        −
      </button>
      {value === 0 ? (
        <span className="angle" aria-hidden="true">
          {name} {words}
        </span>
      ) : (
        <button type="button" className="angle" onClick={() => set(0)}>
          {name} {words}
          <span className="unseen">, back to 0</span>
        </button>
      )}
      <button type="button" aria-label={`${name}, more ${high}`} disabled={value >= steps.most} {...more}>
        +
      </button>
    </span>
  );
}
interface StepperProps {
  name: string;
  value: number;
  steps: { by: number; most: number };
  set: (to: number) => void;
  low: string;
  high: string;
}

/** A press does an act once; while it is held down, again and again. */
function useHeld(act: () => void) {
  const latest = useRef(act);
  latest.current = act;
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const again = useRef(false);
  const stop = () => clearTimeout(timer.current);
  useEffect(() => stop, []);
  return {
    onPointerDown: (event: PointerEvent) => {
      if (event.button !== 0) {
        return;
      }
      again.current = false;
      stop();
      // What the step says may move the button from under the hand: the press goes on all the same.
      (event.currentTarget as Element).setPointerCapture(event.pointerId);
      const next = () => {
        again.current = true;
        latest.current();
        timer.current = setTimeout(next, 90);
      };
      timer.current = setTimeout(next, 400);
      // The end of the step may put the button out before it is let go of.
      addEventListener("pointerup", stop, { once: true });
    },
    onLostPointerCapture: stop,
    onPointerCancel: stop,
    onClick: (event: MouseEvent) => {
      stop();
      // A press that was held has been carried out already; a key brings no such press.
      if (event.detail === 0 || !again.current) {
        latest.current();
      }
      again.current = false;
    },
  };
}

/** Under the strip: what a heel does, and the length as a bar. */
export function StretchBar({ drawing }: { drawing: Drawing | null }) {
  const stretch = usePage((state) => state.stretch);
  const behind = usePage((state) => (state.behind && state.branch === null ? behindOf(state.page, state.arrangement) : null));
  const tilts = drawing?.tilts ?? [];
  const words = stretch === 1 ? "whole" : `${stretch} times as long`;
  return (
    <div className="stretch-bar">
      <p className="tilts" role="status">
        {tilts.map((tilt) => (
          <span key={tilt.name}>
            {tilt.says} {tilt.missing !== null && <span className="soft">{tilt.missing}</span>}{" "}
          </span>
        ))}
      </p>
      {behind !== null && <span className="soft">fine dashes: {behind}</span>}
      <div className="stretch" role="group" aria-label="Length of the strip">
        <button type="button" aria-label="shorter" disabled={stretch <= LEAST} onClick={() => stretchBy(1 / 1.5)}>
          −
        </button>
        <input
          type="range"
          aria-label="stretch"
          aria-valuetext={words}
          min={LEAST}
          max={MOST}
          step={0.05}
          value={stretch}
          onChange={(event) => stretchTo(Number(event.target.value))}
        />
        <button type="button" aria-label="longer" disabled={stretch >= MOST} onClick={() => stretchBy(1.5)}>
          +
        </button>
        <button type="button" disabled={stretch <= LEAST} onClick={() => stretchTo(LEAST)}>
          whole
        </button>
      </div>
    </div>
  );
}

/**
 * Lays the branch out that a joint stands on. A branch goes by the first of its runs, which is the
 * joint's own or one before it.
 */
async function layOut(mark: Mark): Promise<void> {
  const { page: answer, arrangement, state, chapter, units } = page.get();
  const runs = (answer?.marks ?? []).filter((one) => one.kind === "run").map((one) => one.key);
  const own = runs.findIndex((run) => mark.key === run || mark.key.startsWith(`${run}.`));
  try {
    for (let at = own; at >= 0; at -= 1) {
      const branch = runs[at] ?? null;
      const asked = { width: 600, form: "ribbon", least: 40, level: false } as const;
      const drawing = await api.strip({ ...asked, arrangement, state, chapter, units, branch });
      if (drawing.marks.some((one) => one.key === mark.key)) {
        // The program draws the main loop for a run that begins no branch; only that has tees.
        const main = drawing.tees.length > 0;
        page.set(main ? { branch: null } : page.get().branch === null ? { unrolled: branch } : { branch });
        return;
      }
    }
  } catch (fault) {
    heed(fault);
  }
}

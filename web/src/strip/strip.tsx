/**
 * The waterline strip: the loop cut at its pump. It is the way about; what hangs from a place is
 * opened from there.
 */
import { useEffect, useLayoutEffect, useMemo, useRef, useState, type KeyboardEvent, type MouseEvent } from "react";
import { api, latest, type Drawing, type Form, type Mark, type StripAsk } from "../api";
import { toCard } from "../frame/to-card";
import { along } from "../reckoned";
import { heed, markOf, page, pick, pickKey, usePage } from "../state";
import { Band } from "./band";
import { crowded, reach } from "./merged";
import { Paint } from "./paint";

/** The least width of a piece [px]: for a mouse, for a finger. */
const LEAST = { mouse: 40, finger: 56 };
/** Marks nearer than this share a place to press, which asks which [px]. */
const NEAR = 20;
const LANE = 34;

/** The drawing for the sheet as it stands; the old one stays until the new one is there. */
export function useStrip(width: number, form: Form, wanted = true): { drawing: Drawing | null; branch: string | null } {
  const number = usePage((state) => state.page?.number ?? 0);
  const settled = usePage((state) => state.page?.settled ?? false);
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
  const [drawing, setDrawing] = useState<Drawing | null>(null);
  const [fetch] = useState(() =>
    latest((signal: AbortSignal, asked: StripAsk) => api.strip(asked, signal)),
  );
  useEffect(() => {
    if (!wanted || !has || width < 80) {
      return;
    }
    const finger = matchMedia("(pointer: coarse)").matches;
    const least = trueLengths ? 0 : finger ? LEAST.finger : LEAST.mouse;
    const asked: StripAsk = {
      arrangement,
      state,
      chapter,
      width: Math.round(width * stretch),
      form,
      least,
      units,
      branch,
      heel: heel === 0 ? null : heel,
      trim: trim === 0 ? null : trim,
    };
    fetch(asked).then(setDrawing, heed);
  }, [fetch, wanted, has, number, settled, arrangement, state, chapter, units, width, form, stretch, trueLengths, branch, heel, trim]);
  return { drawing: has ? drawing : null, branch };
}

export function Strip({ form }: { form: Form }) {
  const box = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(0);
  useLayoutEffect(() => {
    const one = box.current;
    if (!one) {
      return;
    }
    const look = new ResizeObserver(() => setWidth(one.clientWidth));
    look.observe(one);
    setWidth(one.clientWidth);
    return () => look.disconnect();
  }, []);
  const { drawing, branch } = useStrip(width, form);
  const chosen = usePage((state) => markOf(state.page, state.chosen)?.key ?? null);

  // What is chosen is scrolled to where it shows.
  const x = drawing?.marks.find((mark) => mark.key === chosen)?.x;
  useLayoutEffect(() => {
    const one = box.current;
    if (one && x !== undefined && (x < one.scrollLeft + 20 || x > one.scrollLeft + one.clientWidth - 20)) {
      one.scrollLeft = x - one.clientWidth / 2;
    }
  }, [x]);

  const onClick = (event: MouseEvent) => {
    const key = (event.target as Element).closest("[data-key]")?.getAttribute("data-key");
    if (key != null) {
      pickAny(key);
    }
  };

  return (
    <section className={`strip ${form}`} id="loop" aria-label="The loop, laid out straight" tabIndex={-1}>
      <StripBar branch={branch} drawing={drawing} />
      <div className="strip-box" ref={box}>
        {drawing ? (
          <div
            className="strip-paper"
            ref={(paper) => {
              if (paper) {
                paper.style.width = `${drawing.width}px`;
                paper.style.height = `${drawing.height}px`;
              }
            }}
          >
            <svg
              className="drawing"
              width={drawing.width}
              height={drawing.height}
              viewBox={`0 0 ${drawing.width} ${drawing.height}`}
              aria-hidden="true"
              focusable="false"
              onClick={onClick}
            >
              <Paint drawing={drawing} chosen={chosen} />
            </svg>
            <Hits drawing={drawing} />
            {drawing.table && <Band drawing={drawing} form={form} />}
          </div>
        ) : (
          <p className="soft coming">strip coming</p>
        )}
      </div>
    </section>
  );
}

/** A press on a piece of a run chooses the run where the piece has no mark of its own. */
export function pickAny(key: string): void {
  for (let way = key; ; way = way.slice(0, way.lastIndexOf("."))) {
    if (pickKey(way) || !way.includes(".")) {
      return;
    }
  }
}

/** The marks as a list to be pressed or walked: one tab stop, arrows inside. */
function Hits({ drawing }: { drawing: Drawing }) {
  const answer = usePage((state) => state.page);
  const chosen = usePage((state) => state.chosen);
  const units = usePage((state) => state.units);
  const blink = usePage((state) => state.blink);
  const list = useRef<HTMLUListElement>(null);
  const [asking, setAsking] = useState<Drawing["marks"] | null>(null);
  const groups = useMemo(() => crowded(drawing.marks, NEAR).filter((group) => group.length > 1), [drawing]);
  const stop = drawing.marks.some((mark) => mark.mark === chosen) ? chosen : drawing.marks[0]?.mark;

  const onKeyDown = (event: KeyboardEvent) => {
    const step = { ArrowRight: 1, ArrowLeft: -1, Home: -Infinity, End: Infinity }[event.key];
    if (step === undefined || !answer) {
      return;
    }
    event.preventDefault();
    event.stopPropagation();
    const at = drawing.marks.findIndex((mark) => mark.mark === stop);
    const to = Math.min(Math.max(chosen === null && step === 1 ? at : at + step, 0), drawing.marks.length - 1);
    const mark = drawing.marks[to];
    if (mark) {
      pick(mark.mark);
      list.current?.querySelector<HTMLElement>(`[data-mark="${CSS.escape(mark.mark)}"]`)?.focus();
    }
  };

  return (
    <>
      <ul className="hits" role="list" ref={list} onKeyDown={onKeyDown} aria-label="Joints in order of flow">
        {drawing.marks.map((mark, at) => {
          const one = answer?.marks.find((own) => own.key === mark.key);
          return (
            <li key={mark.key}>
              <button
                type="button"
                data-mark={mark.mark}
                className={blink.includes(mark.mark) ? "hit blink" : "hit"}
                tabIndex={mark.mark === stop ? 0 : -1}
                aria-pressed={mark.mark === chosen}
                aria-label={one ? one.spoken[units] : mark.mark}
                ref={(hit) => {
                  if (hit) {
                    const half = reach(drawing.marks, at, 20);
                    hit.style.left = `${mark.x - half}px`;
                    hit.style.width = `${2 * half}px`;
                    hit.style.height = `${LANE}px`;
                  }
                }}
                onClick={(event) => {
                  pick(mark.mark);
                  // Enter opens, and what is opened is where the hand goes on.
                  if (event.detail === 0) {
                    toCard();
                  }
                }}
              />
            </li>
          );
        })}
      </ul>
      {groups.map((group) => (
        <div
          key={group[0]?.key}
          className="which"
          aria-hidden="true"
          ref={(which) => {
            const [first, last] = [group[0], group.at(-1)];
            if (which && first && last) {
              which.style.left = `${first.x - 12}px`;
              which.style.width = `${last.x - first.x + 24}px`;
              which.style.height = `${LANE}px`;
            }
          }}
          onClick={() => setAsking(group)}
        />
      ))}
      {asking && <Which group={asking} close={() => setAsking(null)} />}
    </>
  );
}

/** Two marks stand too near for one finger: which? */
function Which({ group, close }: { group: Drawing["marks"]; close: () => void }) {
  return (
    <div
      className="asking"
      role="group"
      aria-label="Which?"
      ref={(box) => {
        if (box) {
          box.style.left = `${Math.max(0, (group[0]?.x ?? 0) - 20)}px`;
          box.style.top = `${LANE}px`;
        }
      }}
      onKeyDown={(event) => {
        if (event.key === "Escape") {
          event.stopPropagation();
          close();
        }
      }}
    >
      Which?{" "}
      {group.map((mark, at) => (
        <button
          type="button"
          key={mark.key}
          autoFocus={at === 0}
          onClick={() => {
            pick(mark.mark);
            close();
          }}
        >
          {mark.mark}
        </button>
      ))}
    </div>
  );
}

/** What the strip shows and how long it is, in words. */
function StripBar({ branch, drawing }: { branch: string | null; drawing: Drawing | null }) {
  const form = usePage((state) => state.form);
  const stretch = usePage((state) => state.stretch);
  const trueLengths = usePage((state) => state.trueLengths);
  const heel = usePage((state) => state.heel);
  const trim = usePage((state) => state.trim);
  const chosen = usePage((state) => markOf(state.page, state.chosen));
  const off = drawing !== null && chosen?.kind === "joint" && !drawing.marks.some((mark) => mark.key === chosen.key);
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
      <span className="gap" />
      <Stepper name="heel" value={heel} by={5} most={30} set={(to) => page.set({ heel: to })} low="port" high="starboard" />
      <Stepper name="trim" value={trim} by={0.5} most={5} set={(to) => page.set({ trim: to })} low="by the stern" high="by the head" />
      <button type="button" aria-pressed={trueLengths} onClick={() => page.set({ trueLengths: !trueLengths })}>
        true lengths
      </button>
      <button type="button" disabled={stretch <= 1} onClick={() => stretchBy(1 / 1.5)}>
        shorter
      </button>
      <button type="button" disabled={stretch >= 6} onClick={() => stretchBy(1.5)}>
        longer
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

function Stepper({ name, value, by, most, set, low, high }: StepperProps) {
  const said = value === 0 ? "0°" : `${Math.abs(value)}° ${value < 0 ? low : high}`;
  return (
    <span className={`stepper ${name}`} role="group" aria-label={`${name}: ${said}`}>
      <button
        type="button"
        aria-label={`${name}, more ${low}`}
        disabled={value <= -most}
        onClick={() => set(value - by)}
      >
        −
      </button>
      <span aria-hidden="true">
        {name} {said}
      </span>
      <button
        type="button"
        aria-label={`${name}, more ${high}`}
        disabled={value >= most}
        onClick={() => set(value + by)}
      >
        +
      </button>
    </span>
  );
}
interface StepperProps {
  name: string;
  value: number;
  by: number;
  most: number;
  set: (to: number) => void;
  low: string;
  high: string;
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
      const asked = { width: 600, form: "ribbon", least: 40, heel: null, trim: null } as const;
      const drawing = await api.strip({ ...asked, arrangement, state, chapter, units, branch });
      if (drawing.marks.some((one) => one.key === mark.key)) {
        page.set({ branch });
        return;
      }
    }
  } catch (fault) {
    heed(fault);
  }
}

/** Longer or shorter along x; never shorter than the sheet. */
export function stretchBy(by: number): void {
  const stretch = Math.min(6, Math.max(1, page.get().stretch * by));
  page.set({ stretch: Math.abs(stretch - 1) < 0.05 ? 1 : stretch });
}

/** The next mark along the flow, or against it. */
export function walk(step: 1 | -1): void {
  const { page: answer, chosen } = page.get();
  const next = answer ? along(answer.marks, chosen, step) : undefined;
  if (next) {
    pick(next.mark);
  }
}

/**
 * The waterline strip: the loop cut at its pump. It is the way about; what hangs from a place is
 * opened from there.
 */
import { useEffect, useLayoutEffect, useRef, useState, type MouseEvent } from "react";
import type { Drawing, Tee } from "../sent";
import type { Form } from "../frame/size";
import { along } from "../reckoned";
import { markOf, page, pick, pickKey, usePage } from "../state";
import { useAsk, useDrawing, type Asked } from "./ask";
import { Band } from "./band";
import { StretchBar, StripBar } from "./bar";
import { Hits } from "./hits";
import { Paint } from "./paint";
import { shownWidth, useGestures, type Held } from "./stretch";
import { leads, offOf, wideOf } from "./under";

export function Strip({ form }: { form: Form }) {
  const box = useRef<HTMLDivElement>(null);
  const held = useRef<Held | null>(null);
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
  useGestures(box, held);
  const asked = useAsk(width, form);
  const got = useDrawing(asked);
  const drawing = got?.drawing ?? null;
  const branch = usePage((state) => state.branch);
  const unrolled = usePage((state) => state.unrolled);
  const chosen = usePage((state) => markOf(state.page, state.chosen)?.key ?? null);
  const shown = got && asked ? shownWidth(got.drawing.width, got.of.width, asked.width) : 0;
  const tee = branch === null ? drawing?.tees.find((one) => one.key === unrolled) : undefined;

  // What the hand holds stays under the hand while all else is stretched.
  useLayoutEffect(() => {
    const one = box.current;
    if (one && held.current) {
      one.scrollLeft = held.current.share * shown - held.current.at;
    }
  }, [shown]);
  // What is chosen is scrolled to where it shows, unless a hand has hold of the strip.
  useEffect(() => {
    held.current = null;
  }, [chosen]);
  const x = drawing?.marks.find((mark) => mark.key === chosen)?.x;
  useLayoutEffect(() => {
    const one = box.current;
    if (one && x !== undefined && !held.current && (x < one.scrollLeft + 20 || x > one.scrollLeft + one.clientWidth - 20)) {
      one.scrollLeft = x - one.clientWidth / 2;
    }
  }, [x, chosen]);

  return (
    <section className={`strip ${form}${tee ? " with-under" : ""}`} id="loop" aria-label="The loop, laid out straight" tabIndex={-1}>
      <StripBar branch={branch} drawing={drawing} />
      <div className="strip-box" ref={box}>
        {drawing ? (
          <>
            <Paper drawing={drawing} form={form} shown={shown} chosen={chosen} name="Joints in order of flow" />
            {tee && asked && <Under key={tee.key} tee={tee} of={asked} whole={shown} scale={shown / drawing.width} chosen={chosen} />}
          </>
        ) : (
          <p className="soft coming">strip coming</p>
        )}
      </div>
      <StretchBar drawing={drawing} />
    </section>
  );
}

/** One way with its marks and figures, scaled along x while another is under way. */
function Paper({ drawing, form, shown, chosen, name }: PaperProps) {
  const onClick = (event: MouseEvent) => {
    const key = (event.target as Element).closest("[data-key]")?.getAttribute("data-key");
    if (key != null) {
      // The flag of a branch unrolls it; all else is chosen.
      if (drawing.tees.some((tee) => tee.key === key)) {
        page.set({ unrolled: page.get().unrolled === key ? null : key });
      }
      pickAny(key);
    }
  };
  const scale = drawing.width > 0 ? shown / drawing.width : 1;
  return (
    <div
      className="strip-paper"
      ref={(paper) => {
        if (paper) {
          paper.style.width = `${shown}px`;
          paper.style.height = `${drawing.height}px`;
        }
      }}
    >
      <div
        className="strip-scaled"
        ref={(all) => {
          if (all) {
            all.style.width = `${drawing.width}px`;
            all.style.transform = Math.abs(scale - 1) < 1e-3 ? "" : `scaleX(${scale})`;
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
        <Hits drawing={drawing} name={name} />
        {drawing.table && <Band drawing={drawing} form={form} />}
      </div>
    </div>
  );
}
interface PaperProps {
  drawing: Drawing;
  form: Form;
  /** How wide it is shown [px]. */
  shown: number;
  chosen: string | null;
  name: string;
}

/** How high the lines from the tees to the branch are [px]. */
const LEADS = 14;

/** A branch, unrolled under the main loop: its own length, the same heights. */
function Under({ tee, of, whole, scale, chosen }: UnderProps) {
  const wide = wideOf(tee, of.width);
  const got = useDrawing({ ...of, width: wide, branch: tee.key, before: null, level: true });
  if (got === null || got.of.branch !== tee.key) {
    return <p className="soft coming">{tee.title} coming</p>;
  }
  const { drawing } = got;
  const [begins, stops] = drawing.ends ?? [0, drawing.width];
  // The tees go along while the main loop is scaled.
  const now: Tee = { ...tee, from: tee.from === null ? null : tee.from * scale, to: tee.to === null ? null : tee.to * scale };
  const off = offOf(now, { width: drawing.width, begins }, whole);
  const over = Math.max(whole, off + drawing.width);
  return (
    <section className="under" aria-label={`Branch ${tee.title}`}>
      <svg className="leads" width={over} height={LEADS} viewBox={`0 0 ${over} ${LEADS}`} aria-hidden="true" focusable="false">
        <path d={leads(now, [begins, stops], off, LEADS)} />
      </svg>
      <div className="under-bar">
        <b>{tee.title}</b>
        <button type="button" onClick={() => page.set({ branch: tee.key, unrolled: null })}>
          lay this one out
        </button>
        <button type="button" onClick={() => page.set({ unrolled: null })}>
          roll up
        </button>
      </div>
      <div
        className="under-paper"
        ref={(paper) => {
          if (paper) {
            paper.style.marginLeft = `${off}px`;
          }
        }}
      >
        <Paper drawing={drawing} form={of.form} shown={drawing.width} chosen={chosen} name={`Joints of the branch ${tee.title} in order of flow`} />
      </div>
    </section>
  );
}
interface UnderProps {
  tee: Tee;
  /** What was asked of the main loop. */
  of: Asked;
  /** How wide the main loop is shown, and how much that is scaled. */
  whole: number;
  scale: number;
  chosen: string | null;
}

/** A press on a piece of a run chooses the run where the piece has no mark of its own. */
export function pickAny(key: string): void {
  for (let way = key; ; way = way.slice(0, way.lastIndexOf("."))) {
    if (pickKey(way) || !way.includes(".")) {
      return;
    }
  }
}

/** The next mark along the flow, or against it. */
export function walk(step: 1 | -1): void {
  const { page: answer, chosen } = page.get();
  const next = answer ? along(answer.marks, chosen, step) : undefined;
  if (next) {
    pick(next.mark);
  }
}

/** The marks of a strip as a list to be pressed or walked: one tab stop, arrows inside. */
import { useMemo, useRef, useState, type KeyboardEvent } from "react";
import type { Drawing } from "../sent";
import { toCard } from "../frame/to-card";
import { pick, usePage } from "../state";
import { crowded, reach } from "./merged";

/** Marks nearer than this share a place to press, which asks which [px]. */
const NEAR = 20;
const LANE = 34;

export function Hits({ drawing, name }: { drawing: Drawing; name: string }) {
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
      <ul className="hits" role="list" ref={list} onKeyDown={onKeyDown} aria-label={name}>
        {drawing.marks.map((mark, at) => {
          const one = answer?.marks.find((own) => own.key === mark.key);
          const wet = drawing.tilts.filter((tilt) => tilt.under.includes(mark.key));
          const spoken = one ? one.spoken[units] : mark.mark;
          const names = ["hit", blink.includes(mark.mark) ? "blink" : "", wet.length > 0 ? "wet" : ""];
          return (
            <li key={mark.key}>
              <button
                type="button"
                data-mark={mark.mark}
                className={names.filter(Boolean).join(" ")}
                tabIndex={mark.mark === stop ? 0 : -1}
                aria-pressed={mark.mark === chosen}
                aria-label={[spoken, ...wet.map((tilt) => `under at ${tilt.name}`)].join("; ")}
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

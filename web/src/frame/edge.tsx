/** The fore-edge: thirteen steps, in any order. */
import { useRef, type KeyboardEvent } from "react";
import { Shape } from "../card/grade";
import { go, usePage } from "../state";

export function Edge({ close }: { close?: () => void }) {
  const chapters = usePage((state) => state.page?.chapters);
  const chapter = usePage((state) => state.chapter);
  const none = usePage((state) => state.page !== null && state.page.boat === null);
  const box = useRef<HTMLElement>(null);
  const onKeyDown = (event: KeyboardEvent) => {
    const all = [...(box.current?.querySelectorAll<HTMLElement>("button") ?? [])];
    const at = all.findIndex((one) => one === document.activeElement);
    const to = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: all.length - 1 }[event.key];
    if (to !== undefined) {
      event.preventDefault();
      all[Math.min(Math.max(to, 0), all.length - 1)]?.focus();
    }
  };
  return (
    <nav className="edge" aria-label="Chapters" ref={box} onKeyDown={onKeyDown}>
      {chapters?.map((one) => (
        <button
          type="button"
          key={one.key}
          className={one.ready ? undefined : "not-ready"}
          data-chapter={one.key}
          aria-current={one.key === chapter ? "page" : undefined}
          tabIndex={one.key === chapter || close ? 0 : -1}
          disabled={none && one.key !== "boat"}
          onClick={() => {
            go(one.key);
            close?.();
          }}
        >
          <b>{one.title}</b>
          <span className="state">
            {one.grade !== null && one.grade !== "sound" && <Shape grade={one.grade} mark />}
            <span>{one.state}</span>
          </span>
        </button>
      ))}
    </nav>
  );
}

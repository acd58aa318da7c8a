/** What lies over the sheet: its keys, and finding a mark or a name. */
import { useLayoutEffect, useMemo, useRef, useState, type ReactNode } from "react";
import { Shape } from "../card/grade";
import { page, pick, setLetters, usePage } from "../state";
import { find } from "./find";
import { KEYS } from "./keys";

export function Over() {
  const over = usePage((state) => state.over);
  return over === "keys" ? <KeysSheet /> : over === "find" ? <Find /> : null;
}

/** A flat sheet over the sheet; the browser holds the focus in it and gives it back. */
function Dialog({ name, children }: { name: string; children: ReactNode }) {
  const box = useRef<HTMLDialogElement>(null);
  // Closed before it is taken away, so that the browser gives the focus back.
  useLayoutEffect(() => {
    const own = box.current;
    own?.showModal();
    own?.querySelector("input")?.focus();
    return () => own?.close();
  }, []);
  const fold = () => page.set({ over: null });
  return (
    <dialog className="over" ref={box} aria-label={name} onCancel={fold} onClose={fold}>
      <header>
        <h2>{name}</h2>
        <button type="button" onClick={fold}>
          Close
        </button>
      </header>
      {children}
    </dialog>
  );
}

function KeysSheet() {
  const letters = usePage((state) => state.letters);
  return (
    <Dialog name="Keys">
      <dl className="keys-list">
        {KEYS.map((key) => (
          <div key={key.keys}>
            <dt>{key.keys}</dt>
            <dd>{key.does}</dd>
          </div>
        ))}
      </dl>
      <label className="check">
        <input type="checkbox" checked={letters} onChange={(event) => setLetters(event.target.checked)} />{" "}
        single letters are keys
      </label>
    </Dialog>
  );
}

function Find() {
  const marks = usePage((state) => state.page?.marks) ?? NONE;
  const [words, setWords] = useState("");
  const [at, setAt] = useState(0);
  const found = useMemo(() => find(marks, words).slice(0, 12), [marks, words]);
  const take = (mark: string) => {
    page.set({ over: null });
    pick(mark);
  };
  return (
    <Dialog name="Find a mark or a name">
      <input
        className="written"
        aria-label="Mark or name"
        role="combobox"
        aria-expanded={found.length > 0}
        aria-controls="found"
        aria-activedescendant={found[at] ? `found-${at}` : undefined}
        autoComplete="off"
        spellCheck={false}
        value={words}
        onChange={(event) => {
          setWords(event.target.value);
          setAt(0);
        }}
        onKeyDown={(event) => {
          if (event.key === "ArrowDown" || event.key === "ArrowUp") {
            event.preventDefault();
            const step = event.key === "ArrowDown" ? 1 : -1;
            setAt(Math.min(Math.max(at + step, 0), Math.max(found.length - 1, 0)));
          } else if (event.key === "Enter" && found[at]) {
            event.preventDefault();
            take(found[at].mark);
          }
        }}
      />
      <ul id="found" role="listbox" aria-label="Found">
        {found.map((mark, line) => (
          <li
            key={mark.key}
            id={`found-${line}`}
            role="option"
            aria-selected={line === at}
            onClick={() => take(mark.mark)}
          >
            {mark.grade && <Shape grade={mark.grade} mark />} <b>{mark.mark}</b> {mark.title}
            {mark.grade && `, ${mark.grade}`}
          </li>
        ))}
      </ul>
      {found.length === 0 && <p>Nothing is called so here.</p>}
    </Dialog>
  );
}
const NONE: never[] = [];

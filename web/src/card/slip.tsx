/** The slip in which a value is written. Enter keeps, Esc leaves; there is no form beside it. */
import { useCallback, useEffect, useId, useRef, useState, type KeyboardEvent } from "react";
import { Gone, Refused, api, isOvertaken, latest } from "../api";
import type { Reading, Value } from "../sent";
import { edit, lost, page, refresh, usePage } from "../state";
import { Says } from "./says";
import { split, written, type Fields } from "./written";

export interface SlipProps {
  place: string;
  /** What to measure, in the program's words; null where the value itself was pressed. */
  how: string | null;
  close: () => void;
}

interface Conflict {
  theirs: Value;
}

export function SlipForm({ place, how, close }: SlipProps) {
  const units = usePage((state) => state.units);
  const number = usePage((state) => state.page?.number ?? 0);
  const [value, setValue] = useState<Value | null>(null);
  const [fields, setFields] = useState<Fields | null>(null);
  const [reading, setReading] = useState<Reading | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const [conflict, setConflict] = useState<Conflict | null>(null);
  const first = useRef<HTMLInputElement>(null);
  const form = useRef<HTMLDivElement>(null);
  /** What stood in the file when the slip was opened. */
  const saw = useRef<string | null>(null);
  /** The change of the file at which that stood there: what came after it was not seen. */
  const seen = useRef(0);
  const id = useId();

  const [look] = useState(() => latest((signal: AbortSignal) => api.value(place, signal)));
  const [read] = useState(() =>
    latest((signal: AbortSignal, text: string) =>
      api.reading(place, text, page.get().units, signal),
    ),
  );

  const failed = useCallback((what: unknown) => {
    if (isOvertaken(what)) {
      return;
    }
    if (what instanceof Gone) {
      lost();
      setFault("Hosewright has stopped. What was kept is in the boat file.");
    } else if (what instanceof Refused) {
      setFault(what.expected === undefined ? what.why : `${what.why} ${what.expected}`);
    } else {
      throw what;
    }
  }, []);

  // The value is asked for at the beginning and at every change of the file under the slip.
  useEffect(() => {
    look().then((now) => {
      if (saw.current === null) {
        saw.current = now.toml;
        seen.current = number;
        setValue(now);
        setFields(opening(now));
      } else if (saw.current !== now.toml) {
        if (now.closed === null) {
          setConflict({ theirs: now });
        } else {
          // It has become several values meanwhile.
          setValue(now);
        }
      } else {
        seen.current = number;
      }
    }, failed);
  }, [look, number, failed]);

  // As soon as there is something to write in, the hand is there.
  const closed = value?.closed ?? null;
  const ready = fields !== null && closed === null;
  useEffect(() => {
    if (ready) {
      first.current?.focus();
      first.current?.select();
    }
  }, [ready]);
  // The reader of a long working must see the whole of the slip it opened, as it grows.
  useEffect(() => {
    form.current?.scrollIntoView({ block: "nearest" });
  }, [ready, reading, fault]);

  const text = fields === null ? "" : written(fields);
  useEffect(() => {
    if (text === "") {
      setReading(null);
      return;
    }
    const soon = setTimeout(() => {
      read(text).then(setReading, failed);
    }, 80);
    return () => clearTimeout(soon);
  }, [text, units, read, failed]);

  const keep = async (then?: () => void) => {
    setFault(null);
    if (value === null || value.closed !== null) {
      return;
    }
    try {
      // What is kept is what was read last, never an older reading of another text.
      const now = await read(text);
      setReading(now);
      if (!now.ok) {
        first.current?.focus();
        return;
      }
      // The program names the step by what is written and where.
      await edit("", [{ place, to: now.toml }], seen.current);
      close();
      then?.();
    } catch (what) {
      if (what instanceof Refused && what.status === 409) {
        await refresh();
        look().then((theirs) => setConflict({ theirs }), failed);
        return;
      }
      failed(what);
    }
  };

  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key === "Enter" && !(event.target instanceof HTMLButtonElement)) {
      event.preventDefault();
      void keep();
    } else if (event.key === "Escape") {
      event.preventDefault();
      event.stopPropagation();
      leave();
    }
  };

  const leave = () => {
    close();
    // The hand goes back to the value that was written on.
    requestAnimationFrame(() => {
      document.querySelector<HTMLElement>(`[data-ruled="${CSS.escape(place)}"]`)?.focus();
    });
  };

  if (fields === null || value === null) {
    return (
      <div className="slip" role="group" aria-label="Slip">
        {fault === null ? <p className="soft">…</p> : <Fault id={`${id}-told`} text={fault} />}
      </div>
    );
  }

  if (closed !== null) {
    // One value would write over all that stand there, so that there is nothing to write on.
    return (
      <div className="slip" role="group" aria-label={value.title} ref={form} onKeyDown={onKeyDown}>
        <p className="slip-head">
          <b>{value.title}</b>
          <span className="soft"> {how ?? value.says}</span>
        </p>
        <p role="alert">{closed}</p>
        <p className="acts">
          <button type="button" autoFocus onClick={leave}>
            Leave
          </button>
        </p>
      </div>
    );
  }

  if (conflict !== null) {
    return (
      <div className="slip" role="group" aria-label="Two readings" onKeyDown={onKeyDown}>
        <p role="alert">
          <b>Two readings. Which one stands?</b>
        </p>
        <p className="pair">
          <button type="button" autoFocus onClick={close}>
            <Says text={conflict.theirs.text ?? "nothing"} />
            <span className="soft"> in the file</span>
          </button>
          <button
            type="button"
            onClick={() => {
              saw.current = conflict.theirs.toml;
              seen.current = number;
              setConflict(null);
              void keep();
            }}
          >
            <Says text={reading?.ok ? reading.shown : text} />
            <span className="soft"> on this slip</span>
          </button>
        </p>
      </div>
    );
  }

  const set = (part: Partial<Fields>) => {
    setFault(null);
    setFields({ ...fields, ...part });
  };
  const plain = value.kind === "text" || value.units.length === 0;
  const wrong = reading !== null && !reading.ok && text !== "";
  const instrument = value.instruments.find((one) => one.name === fields.instrument);

  return (
    <div className="slip" role="group" aria-label={value.title} ref={form} onKeyDown={onKeyDown}>
      <p className="slip-head">
        <b>{value.title}</b>
        <span className="soft"> {how ?? value.says}</span>
      </p>
      <p className="slip-fields">
        <label>
          <span className="unseen">{plain ? "Text" : "Number"}</span>
          <input
            ref={first}
            className="written"
            value={fields.number}
            autoComplete="off"
            spellCheck={false}
            inputMode={plain ? "text" : "decimal"}
            aria-invalid={wrong || undefined}
            aria-describedby={`${id}-told`}
            onChange={(event) => set({ number: event.target.value })}
          />
        </label>
        {!plain && (
          <>
            <label>
              <span className="unseen">Unit</span>
              <select value={fields.unit} onChange={(event) => set({ unit: event.target.value })}>
                {fields.unit === "" && <option value="">as typed</option>}
                {value.units.map((unit) => (
                  <option key={unit}>{unit}</option>
                ))}
              </select>
            </label>
            <label className="slip-tolerance">
              ±{" "}
              <span className="unseen">sure within</span>
              <input
                className="written short"
                value={fields.plusMinus}
                autoComplete="off"
                placeholder={instrument ? "by it" : ""}
                onChange={(event) => set({ plusMinus: event.target.value })}
              />
            </label>
          </>
        )}
      </p>
      {!plain && value.instruments.length > 0 && (
        <p className="slip-fields">
          <label>
            <span className="soft">by </span>
            <select
              value={fields.instrument}
              onChange={(event) => set({ instrument: event.target.value })}
            >
              <option value="">{value.instrument ?? "what is usual here"}</option>
              {value.instruments
                .filter((one) => one.name !== value.instrument)
                .map((one) => (
                  <option key={one.name} value={one.name}>
                    {one.name} ± {one.tolerance[units]}
                  </option>
                ))}
            </select>
          </label>
        </p>
      )}
      <div id={`${id}-told`} className="told" aria-live="polite">
        {fault !== null ? (
          <Fault text={fault} />
        ) : wrong ? (
          <Fault text={`${reading.why} ${reading.expected}`} />
        ) : reading?.ok ? (
          <>
            <Says text={reading.shown} />
            {reading.remark !== null && <p className="soft">{reading.remark}</p>}
          </>
        ) : (
          "\u00a0"
        )}
      </div>
      <p className="acts">
        <button type="button" className="strong" disabled={wrong || text === ""} onClick={() => void keep()}>
          Keep
        </button>
        <button type="button" onClick={leave} onKeyDown={(event) => onTab(event, keep)}>
          Leave
        </button>
      </p>
    </div>
  );
}

/** Tab from the last thing of a slip keeps, and opens the next ruled value. */
function onTab(event: KeyboardEvent, keep: (then: () => void) => Promise<void>): void {
  if (event.key !== "Tab" || event.shiftKey) {
    return;
  }
  const slip = event.currentTarget.closest(".slip");
  const all = [...document.querySelectorAll<HTMLElement>(".slip, [data-ruled]")];
  const next = all[all.findIndex((one) => one === slip) + 1]?.dataset["ruled"];
  if (next === undefined) {
    return;
  }
  event.preventDefault();
  void keep(() => {
    requestAnimationFrame(() => {
      document.querySelector<HTMLElement>(`[data-ruled="${CSS.escape(next)}"]`)?.click();
    });
  });
}

function opening(value: Value): Fields {
  const names = value.instruments.map((one) => one.name);
  if (value.kind === "empty" || value.text === null) {
    return { number: "", unit: value.units[0] ?? "", plusMinus: "", instrument: "" };
  }
  if (value.kind === "text" || value.units.length === 0) {
    return { number: value.text, unit: "", plusMinus: "", instrument: "" };
  }
  const fields = split(value.text, value.units, names);
  // A bare number is of the file's own unit, which the program names first.
  const bare = fields.unit === "" && /^[-−]?[\d.,]/.test(fields.number);
  return bare ? { ...fields, unit: value.units[0] ?? "" } : fields;
}

/** What does not read, and what would. */
export function Fault({ text, id }: { text: string; id?: string }) {
  return (
    <p className="fault" id={id}>
      <svg width="14" height="14" viewBox="0 0 14 14" aria-hidden="true" focusable="false">
        <path d="M7 1l6 12H1z" />
        <path d="M7 5v4M7 10.4v1.2" />
      </svg>{" "}
      {text}
    </p>
  );
}

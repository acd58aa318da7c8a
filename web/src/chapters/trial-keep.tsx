/** Keeping a trial: in a state of its own, or in the state that was tried. */
import { useId, useState } from "react";

import { Refused } from "../api";
import type { TrialAsk, TrialKeep } from "../sent";
import { keepTrial, say, setState, useShut, useText } from "../state";
import { wordsOf } from "./parts";

export interface KeepProps {
  keep: TrialKeep;
  /** What was tried. */
  asked: TrialAsk;
  /** Name of the state that was tried, for people. */
  title: string;
  /** It stands in the boat file now, in this state. */
  kept: () => void;
}

export function Keep({ keep, asked, title, kept }: KeepProps) {
  const text = useText();
  const shut = useShut();
  const id = useId();
  const [named, setNamed] = useState<string | null>(null);
  const [summer, setSummer] = useState(false);
  const [busy, setBusy] = useState(false);
  const [fault, setFault] = useState<string | null>(null);
  const writesSummer = summer && keep.summer !== null;
  const any = keep.holds.length > 0 || writesSummer;
  const off = shut || busy || !any;

  const write = async (name: string | null) => {
    if (off || name === "") {
      return;
    }
    setBusy(true);
    setFault(null);
    try {
      await keepTrial({ ...asked, name, summer: writesSummer });
      if (name !== null) {
        setState(name);
      }
      say(name === null ? `kept in ${title}` : `kept as ${name}`);
      kept();
    } catch (why) {
      const would = why instanceof Refused && why.expected !== undefined ? ` ${why.expected}` : "";
      setFault(`${wordsOf(why)}${would}`);
    } finally {
      setBusy(false);
    }
  };

  return (
    <div className="keep-trial">
      {keep.holds.length > 0 && (
        <p>
          A state would hold: <code>{keep.holds.join(", ")}</code>
        </p>
      )}
      {keep.left.length > 0 && (
        <>
          <p>
            <b>Not kept in a state:</b>
          </p>
          <ul>
            {keep.left.map((one) => (
              <li key={one.metric}>{text(one)}</li>
            ))}
          </ul>
        </>
      )}
      {keep.summer !== null && (
        <label className={summer ? "chosen" : ""}>
          <input type="checkbox" checked={summer} onChange={() => setSummer(!summer)} /> {text(keep.summer)}
        </label>
      )}
      {named === null ? (
        <p className="keys">
          <button type="button" aria-disabled={off} onClick={() => !off && setNamed("")}>
            Keep as a state
          </button>
          <button type="button" aria-disabled={off} onClick={() => void write(null)}>
            Keep in {title}
          </button>
        </p>
      ) : (
        <form
          onSubmit={(event) => {
            event.preventDefault();
            void write(named.trim());
          }}
          onKeyDown={(event) => {
            if (event.key === "Escape") {
              event.preventDefault();
              event.stopPropagation();
              setNamed(null);
              setFault(null);
            }
          }}
        >
          <label className="ask">
            <span>Name of the new state</span>
            <input
              className="ruled"
              autoFocus
              autoComplete="off"
              spellCheck={false}
              maxLength={40}
              value={named}
              aria-describedby={`${id}-how`}
              onChange={(event) => {
                setFault(null);
                setNamed(event.target.value);
              }}
            />
            <span className="soft" id={`${id}-how`}>
              letters, digits, - and _
            </span>
          </label>
          <p className="keys">
            <button type="submit" aria-disabled={off || named.trim() === ""}>
              Keep
            </button>
            <button
              type="button"
              onClick={() => {
                setNamed(null);
                setFault(null);
              }}
            >
              Leave
            </button>
          </p>
        </form>
      )}
      {fault !== null && (
        <p className="fault" role="alert">
          {fault}
        </p>
      )}
    </div>
  );
}

/** The survey in the bilge: one value at a time, with a thumb. */
import { useEffect, useRef, useState, type ReactNode } from "react";

import { api } from "../api";
import type { Page } from "../sent";
import { go as toChapter, usePage } from "../state";
import { CANT, wordsOf, type Ask } from "./ends";
import {
  begin,
  deadWhy,
  inches,
  isEmpty,
  keyWord,
  live,
  press,
  shown,
  spokenOf,
  textOf,
  unitWord,
  wanting,
  withUnit,
  type PadKey,
} from "./pad";
import { Picture } from "./picture";
import { useQueue, useWay, type Draft, type OnTheWay } from "./use-survey";
import { Waiting } from "./waiting";

type Over = "waiting" | "can't" | "note" | "ends" | "far" | null;

/**
 * One key of the pad. A dead key stays where it is, so that the thumb finds its way. What is spoken holds all that is
 * read on the key, in the same words: who works it by voice says what he sees.
 */
function Key({
  word,
  spoken,
  dead = false,
  chosen,
  kind = "",
  children,
  onPress,
}: {
  word: string;
  spoken?: string;
  dead?: boolean;
  /** One of several of which one holds. */
  chosen?: boolean;
  kind?: string;
  children?: ReactNode;
  /** A dead key is told of its press as well: the pad says why it does nothing. */
  onPress: () => void;
}) {
  return (
    <button
      type="button"
      className={`key ${kind}`}
      aria-label={spoken ?? word}
      aria-disabled={dead}
      aria-pressed={chosen}
      onClick={onPress}
    >
      {children ?? word}
    </button>
  );
}

/** The place of the thing that is measured, short enough for the head. */
function nameOf(ask: Ask): string {
  if (ask.mark !== "") {
    return ask.part === "" ? ask.mark : `${ask.mark} ${ask.part}`;
  }
  return ask.part === "" ? ask.station : `${ask.station}, ${ask.part}`;
}

/** The instrument that is meant, with what it brings as the boat’s computer says it. */
function widthOf(way: OnTheWay, draft: Draft): string | null {
  const own = way.value?.instruments.find((one) => one.name === draft.instrument);
  if (draft.pad.sure !== "") {
    return `± ${draft.pad.sure} ${draft.pad.unit}`;
  }
  if (own === undefined) {
    return null;
  }
  const width = inches(draft.pad) ? own.tolerance.imperial : own.tolerance.metric;
  return width.startsWith("±") ? width : `± ${width}`;
}

/** With what a thumb may have measured, the likeliest first; the note has all others. */
const AT_HAND: Partial<Record<OnTheWay["kind"], string[]>> = {
  length: ["caliper", "tape", "girth", "guessed"],
  height: ["water tube", "tape", "spirit level", "guessed"],
};

/** The next instrument of those at hand. */
function nextInstrument(way: OnTheWay, draft: Draft): string | null {
  const known = way.value?.instruments.map((one) => one.name);
  const usual = AT_HAND[way.kind] ?? ["maker", "plate", "guessed"];
  const names = known === undefined ? usual : usual.filter((name) => known.includes(name));
  const at = names.indexOf(draft.instrument ?? "");
  return names[(at + 1) % names.length] ?? draft.instrument;
}

/** A value while it is written: digits large, a fraction set by us, an empty box where nothing stands. */
function Written({ draft }: { draft: Draft }) {
  const { number, unit, fraction } = shown(draft.pad);
  const empty = isEmpty(draft.pad);
  return (
    <output className="pad-value" aria-label={empty ? "nothing written" : spokenOf(draft.pad)}>
      {empty ? (
        <span className="pad-empty" />
      ) : (
        <span>
          {number}
          {fraction !== null && (
            <>
              {fraction.whole}
              <span className="fraction">
                <sup>{fraction.over === "" ? "▫" : fraction.over}</sup>⁄
                <sub>{fraction.under === "" ? "▫" : fraction.under}</sub>
              </span>
            </>
          )}
        </span>
      )}{" "}
      <span className="pad-unit">{unit}</span>
    </output>
  );
}

/** What stands in the file or waits here already. */
function Standing({ way, waits }: { way: OnTheWay; waits: string | null }) {
  const { ask, value } = way;
  if (waits !== null) {
    return <>kept here: {waits}</>;
  }
  if (ask === null || ask.box.text === null) {
    return ask?.box.holds === "unknown" ? <>looked, can’t know yet</> : null;
  }
  const dashed = value?.kind === "assumed" || value?.kind === "guessed";
  return (
    <>
      in the file{" "}
      {dashed ? (
        <>
          <i className="assumed">({ask.box.text})</i> <b>{value.kind}</b>
        </>
      ) : (
        <>
          {ask.box.text} <span className="soft">{value?.instrument ?? ask.box.instrument}</span>
        </>
      )}
    </>
  );
}

const DIGITS: PadKey[][] = [
  ["7", "8", "9"],
  ["4", "5", "6"],
  ["1", "2", "3"],
];

function Pad({
  way,
  draft,
  keep,
  hit,
}: {
  way: OnTheWay;
  draft: Draft;
  keep: () => void;
  hit: (key: PadKey) => void;
}) {
  const { pad } = draft;
  const set = (next: typeof pad) => way.change({ ...draft, pad: next });
  const digit = (key: PadKey) => (
    <Key key={key} word={key} spoken={keyWord(key)} kind="digit" dead={!live(pad, key)} onPress={() => hit(key)} />
  );
  const second = pad.second !== null;
  const units = second ? ["°C", "°F"] : way.units;
  const unit = second ? pad.unitOfSecond : pad.unit;
  const width = widthOf(way, draft);
  // The key under 1 and 2: a point, and what else this kind of value wants.
  const height = pad.kind === "height";
  const at = pad.kind === "pressure-at-temperature";
  const cold = pad.kind === "temperature";
  const face = (one: string) => (one === "in" ? "inch" : one);
  const unitKey = (one: string | undefined, at: number) =>
    one === undefined || one === "" ? (
      <span key={`unit ${at}`} />
    ) : (
      <Key
        key={`unit ${at}`}
        word={face(one)}
        spoken={unitWord(one).startsWith(face(one)) ? face(one) : `${face(one)}, ${unitWord(one)}`}
        chosen={one === unit}
        onPress={() => set(withUnit(pad, one))}
      />
    );
  // More than two share the second key: it goes on to the next of them.
  const others = units.slice(1);
  const onKey = others.includes(unit) && others.length > 1 ? unit : others[0];
  const turned = others.length > 1 && onKey === unit ? others[(others.indexOf(unit) + 1) % others.length] : undefined;
  const side = [
    unitKey(units[0], 0),
    turned === undefined || onKey === undefined ? (
      unitKey(onKey, 1)
    ) : (
      <Key
        key="unit 1"
        word={face(onKey)}
        spoken={`${face(onKey)}; once more for ${face(turned)}`}
        chosen
        onPress={() => set(withUnit(pad, turned))}
      >
        <span>{face(onKey)}</span>
        <span className="soft">; once more for {face(turned)}</span>
      </Key>
    ),
    inches(pad) ? (
      <Key
        key="gap"
        word="gap"
        spoken="gap 1 5/8, between whole inches and fraction"
        dead={!live(pad, "gap")}
        onPress={() => hit("gap")}
      >
        <span>gap </span>
        <span className="soft">
          1<b className="key-gap">␣</b>5/8
        </span>
      </Key>
    ) : (
      <Key
        key="instrument"
        word="instrument"
        spoken={`instrument, now ${draft.instrument ?? "none; with what?"}${width === null ? "" : ` ${width}`}`}
        onPress={() => way.change({ ...draft, instrument: nextInstrument(way, draft) })}
      >
        <span>{draft.instrument ?? "with what?"} </span>
        {width !== null && <span className="soft">{width}</span>}
      </Key>
    ),
  ];
  const missing = wanting(pad);
  return (
    <div className="pad-grid" role="group" aria-label="Pad">
      {DIGITS.map((row, line) => [...row.map(digit), side[line]])}
      {digit("0")}
      {height ? (
        <Key
          word="above or below"
          spoken={`side of the waterline: above below, now ${pad.first.below ? "below" : "above"}`}
          onPress={() => hit("sign")}
        >
          <span className="key-choice">
            <span className={pad.first.below ? "" : "chosen"}>above </span>
            <span className={pad.first.below ? "chosen" : ""}>below</span>
          </span>
        </Key>
      ) : (
        <Key word="." spoken={keyWord(".")} kind="digit" dead={!live(pad, ".")} onPress={() => hit(".")} />
      )}
      {at || cold ? (
        <Key
          word={at ? "@" : "−"}
          spoken={at ? keyWord("at") : "minus"}
          kind="digit"
          dead={!live(pad, at ? "at" : "sign")}
          onPress={() => hit(at ? "at" : "sign")}
        />
      ) : (
        <Key word="/" spoken={keyWord("/")} kind="digit" dead={!live(pad, "/")} onPress={() => hit("/")} />
      )}
      <Key
        word="Keep"
        spoken={missing === null ? `keep ${spokenOf(pad)}` : "keep"}
        kind="keep"
        dead={missing !== null}
        onPress={keep}
      />
    </div>
  );
}

/** A box that takes words: keys where the boat file knows few, and room to write. */
function Words({ way, draft, keep }: { way: OnTheWay; draft: Draft; keep: (words: string) => void }) {
  const known = way.ask === null ? [] : wordsOf(way.ask.box);
  const set = (words: string) => way.change({ ...draft, words });
  return (
    <div className="pad-words" role="group" aria-label="Pad">
      {known.length > 0 && (
        <div className="pad-word-keys">
          {known.map((word) => (
            <Key
              key={word}
              word={word}
              kind={draft.words === word ? "reversed" : ""}
              onPress={() => set(word)}
            />
          ))}
        </div>
      )}
      <div className="pad-write">
        <label>
          <span>{known.length > 0 ? "another word" : "in words"}</span>
          <textarea rows={2} value={draft.words} onChange={(event) => set(event.target.value)} />
        </label>
        <Key
          word="Keep"
          spoken={`keep ${draft.words}`}
          kind="keep"
          dead={draft.words.trim() === ""}
          onPress={() => {
            if (draft.words.trim() !== "") {
              keep(draft.words.trim());
            }
          }}
        />
      </div>
    </div>
  );
}

/** Why it can't be reached; the first three are kept, the last only puts off. */
function Cant({ onWhy, onLater, onBack }: { onWhy: (why: string) => void; onLater: () => void; onBack: () => void }) {
  return (
    <div className="pad-over" role="dialog" aria-modal="true" aria-label="Can’t reach">
      <h2 tabIndex={-1}>Can’t reach: why?</h2>
      <div className="pad-keys-two">
        {CANT.map((why) => (
          <Key key={why} word={why} onPress={() => onWhy(why)} />
        ))}
        <Key word="later" onPress={onLater} />
        <Key word="Back to the pad" onPress={onBack} />
      </div>
    </div>
  );
}

/** A value that can hardly be is asked back before it is kept. */
function AskBack({ far, text, onKeep, onAnew }: { far: string; text: string; onKeep: () => void; onAnew: () => void }) {
  return (
    <div className="pad-over" role="dialog" aria-modal="true" aria-label="Asked back">
      <h2 tabIndex={-1}>Is that what you read?</h2>
      <p role="alert">{far}</p>
      <div className="pad-keys-two">
        <Key word="Type anew" onPress={onAnew} />
        <Key word={`Keep ${text}`} onPress={onKeep} />
      </div>
    </div>
  );
}

/** A note, and how sure the reading is where that is not what the instrument brings. */
function Note({ way, draft, onCant, onBack }: { way: OnTheWay; draft: Draft; onCant: () => void; onBack: () => void }) {
  const names = way.value?.instruments ?? [];
  return (
    <div className="pad-over" role="dialog" aria-modal="true" aria-label="Note">
      <h2 tabIndex={-1}>Note</h2>
      <div className="pad-keys-two">
        <Key word="can’t reach" onPress={onCant} />
      </div>
      <label className="pad-field">
        <span>What is to be known of it</span>
        <textarea
          rows={3}
          value={draft.note}
          onChange={(event) => way.change({ ...draft, note: event.target.value })}
        />
      </label>
      {way.kind !== "words" && (
        <>
          <label className="pad-field">
            <span>Sure it lies between, ± {draft.pad.unit} (left empty, as the instrument brings it)</span>
            <input
              inputMode="decimal"
              value={draft.pad.sure}
              onChange={(event) => {
                const sure = event.target.value.replace(",", ".");
                if (/^\d*(\.\d*)?$/.test(sure)) {
                  way.change({ ...draft, pad: { ...draft.pad, sure } });
                }
              }}
            />
          </label>
          {names.length > 0 && (
            <div className="pad-keys-two" role="group" aria-label="Instrument">
              {names.map((one) => (
                <Key
                  key={one.name}
                  word={one.name}
                  kind={one.name === draft.instrument ? "reversed" : ""}
                  onPress={() => way.change({ ...draft, instrument: one.name })}
                />
              ))}
            </div>
          )}
        </>
      )}
      <div className="pad-keys-two">
        <Key word="Back to the pad" onPress={onBack} />
      </div>
    </div>
  );
}

/** All ends, to go to one by its mark, and the way out of the survey. */
function Ends({ way, onBack }: { way: OnTheWay; onBack: () => void }) {
  const firsts = way.asks
    .map((ask, at) => ({ ask, at }))
    .filter(({ ask, at }) => way.asks[at - 1]?.end !== ask.end);
  const boxes = (end: number) =>
    way.asks.filter((ask) => ask.end === end && ask.box.holds !== "value").length;
  return (
    <div className="pad-over" role="dialog" aria-modal="true" aria-label="Ends">
      <h2 tabIndex={-1}>Ends</h2>
      <ul className="ends">
        {firsts.map(({ ask, at }) => {
          const open = boxes(ask.end);
          return (
            <li key={ask.box.place}>
              <button
                type="button"
                aria-current={way.ask?.end === ask.end ? "step" : undefined}
                onClick={() => {
                  way.go(at);
                  onBack();
                }}
              >
                <b>{nameOf(ask)}</b>
                <span className="soft">{open === 0 ? "filled" : open === 1 ? "1 box" : `${open} boxes`}</span>
              </button>
            </li>
          );
        })}
      </ul>
      {way.atDesk > 0 && (
        <p className="soft">Hose on the shelf is written at the desk: {way.atDesk} boxes.</p>
      )}
      <div className="pad-keys-two">
        <Key word="Back to the pad" onPress={onBack} />
        <Key word="Leave the survey" onPress={() => toChapter("boat")} />
      </div>
    </div>
  );
}

/** How long the boat's computer may take over a reading that is about to be kept [ms]; then it is asked when it goes over. */
const A_MOMENT = 1500;

/** Why the boat's computer asks a value back; null where it does not, and where it does not answer in time. */
async function askedBack(place: string, text: string, units: "metric" | "imperial"): Promise<string | null> {
  const own = new AbortController();
  const timer = setTimeout(() => own.abort(), A_MOMENT);
  try {
    const answer = await api.reading(place, text, units, own.signal);
    return answer.ok ? answer.far : null;
  } catch {
    // Cut off, late or refused: the value is kept here, and asked back when it goes over.
    return null;
  } finally {
    clearTimeout(timer);
  }
}

export function SurveyPad({ page }: { page: Page }) {
  const units = usePage((state) => state.units);
  const { queue, standing } = useQueue(page.boat);
  const way = useWay(page, standing, units);
  const [over, setOver] = useState<Over>(null);
  const [fault, setFault] = useState<string | null>(null);
  const [hint, setHint] = useState<string | null>(null);
  const [far, setFar] = useState<{ place: string; why: string } | null>(null);
  const [told, setTold] = useState(false);
  const [said, setSaid] = useState("");
  const keeping = useRef(false);
  const root = useRef<HTMLDivElement>(null);
  const { ask, draft } = way;

  // What a key that does nothing has to say stands until the next key.
  useEffect(() => setHint(null), [way.at]);
  const hit = (key: PadKey) => {
    if (draft === null) {
      return;
    }
    const why = deadWhy(draft.pad, key);
    setHint(why);
    if (why === null) {
      way.change({ ...draft, pad: press(draft.pad, key) });
    }
  };
  const keep = async (text: string, instrument: string | null, note: string | null, spoken: string, meant = false) => {
    if (ask === null || keeping.current) {
      return;
    }
    keeping.current = true;
    try {
      if (!meant && way.kind !== "words" && !standing.cut && text !== "?") {
        const asked = await askedBack(ask.box.place, text, units);
        if (asked !== null) {
          setFar({ place: ask.box.place, why: asked });
          setOver("far");
          return;
        }
      }
      await queue.keep({
        place: ask.box.place,
        mark: ask.mark,
        title: ask.box.says,
        text,
        instrument,
        note,
        at: new Date().toISOString(),
        saw: ask.box.text,
        meant,
      });
      // Only now, with the value down on this phone, the pad goes on.
      await way.clear();
      setFault(null);
      setOver(null);
      setSaid(`kept: ${spoken}`);
      way.onward();
    } catch (why) {
      setFault(`Not kept: ${why instanceof Error ? why.message : String(why)} Write it down on paper.`);
    } finally {
      keeping.current = false;
    }
  };
  const note = draft !== null && draft.note.trim() !== "" ? draft.note.trim() : null;
  const keepPad = (meant = false) => {
    if (draft === null) {
      return;
    }
    const missing = wanting(draft.pad);
    if (missing === null) {
      void keep(textOf(draft.pad), draft.instrument, note, spokenOf(draft.pad), meant);
    } else {
      setHint(missing);
    }
  };

  // What lies over the pad takes the focus, and gives it back.
  useEffect(() => {
    if (over !== null) {
      root.current?.querySelector<HTMLElement>(".pad-over h2")?.focus();
    }
  }, [over]);

  const pressed = useRef<(event: KeyboardEvent) => void>(() => {});
  pressed.current = (event) => {
    const field = event.target instanceof HTMLElement && /^(INPUT|TEXTAREA)$/.test(event.target.tagName);
    if (event.key === "Escape" && over !== null) {
      setOver(null);
      event.stopPropagation();
      return;
    }
    if (field || over !== null || draft === null || way.kind === "words" || event.ctrlKey || event.metaKey) {
      return;
    }
    const named: Record<string, PadKey> = { Backspace: "rub out", ",": ".", "-": "sign", "@": "at", " ": "gap" };
    const key = named[event.key] ?? (/^[0-9./]$/.test(event.key) ? (event.key as PadKey) : null);
    if (key !== null) {
      hit(key);
      event.preventDefault();
      event.stopPropagation();
    } else if (event.key === "Enter" && !(event.target instanceof HTMLButtonElement)) {
      keepPad();
    }
  };
  useEffect(() => {
    // Ahead of the keys of the sheet, which lies under this one.
    const own = (event: KeyboardEvent) => pressed.current(event);
    addEventListener("keydown", own, true);
    return () => removeEventListener("keydown", own, true);
  }, []);

  const waits = standing.entries.length;
  const refused = standing.entries.filter((entry) => entry.refused !== null).length;
  const waiting =
    waits === 0 ? "0 waiting" : refused > 0 ? `${waits} waiting, ${refused} not taken` : `${waits} waiting`;
  const mine = standing.entries.filter((entry) => entry.place === ask?.box.place);
  const waitsHere = mine[mine.length - 1]?.text ?? null;
  const missing = draft !== null && way.kind !== "words" && !isEmpty(draft.pad) ? wanting(draft.pad) : null;

  return (
    <div className="survey-pad" ref={root}>
      <header className="pad-head">
        <button type="button" aria-haspopup="dialog" onClick={() => setOver("ends")}>
          {ask === null ? "Survey" : nameOf(ask)}
        </button>
        <span>{ask === null ? "" : `end ${ask.end} of ${way.ends}`}</span>
        <button type="button" aria-haspopup="dialog" onClick={() => setOver("waiting")}>
          {standing.cut ? "cut off " : ""}
          <span aria-hidden="true">□ </span>
          {waiting}
        </button>
      </header>
      {ask === null || draft === null ? (
        <div className="pad-none">
          {way.survey === null ? (
            <>
              <p>{way.missing ?? "The survey is being fetched."}</p>
              {way.missing !== null && (
                <button type="button" className="key" onClick={way.again}>
                  Ask again
                </button>
              )}
            </>
          ) : way.asks.length === 0 || way.at >= way.asks.length ? (
            <>
              <p>
                {waits === 0 ? "No box is open. All gone over. Nothing waits here." : `No box is open. ${waiting} to go over.`}
              </p>
              {way.atDesk > 0 && <p>Hose on the shelf is written at the desk: {way.atDesk} boxes.</p>}
              <button type="button" className="key" onClick={() => setOver("ends")}>
                Ends
              </button>
              <button type="button" className="key" onClick={() => toChapter("boat")}>
                Leave the survey
              </button>
            </>
          ) : null}
        </div>
      ) : (
        <>
          <div className="pad-picture">
            <Picture ask={ask} />
            {standing.cut && !told && (
              <p className="pad-told" role="status">
                Cut off. Go on measuring; leave this page open.
                <button type="button" onClick={() => setTold(true)}>
                  Go on
                </button>
              </p>
            )}
          </div>
          <div className="pad-ask">
            <p className="pad-question">{ask.box.says}</p>
            {way.kind === "words" ? (
              <output className="pad-value pad-said">{draft.words === "" ? <span className="pad-empty" /> : draft.words}</output>
            ) : (
              <div className="pad-line">
                <Written draft={draft} />
                <span className="soft">
                  {[widthOf(way, draft), draft.instrument === null ? null : `by ${draft.instrument}`]
                    .filter((word) => word !== null)
                    .join(" ")}
                </span>
              </div>
            )}
            <p className="pad-remark" role={fault === null && hint === null ? undefined : "alert"}>
              {fault ??
                hint ??
                (way.unkept !== null ? `Stored nowhere yet: ${way.unkept}` : null) ??
                missing ?? (
                  <>
                    {way.kind !== "words" && inches(draft.pad) && isEmpty(draft.pad) && (
                      <span>1 5/8 is: 1, gap, 5, /, 8. </span>
                    )}
                    <Standing way={way} waits={waitsHere} />
                  </>
                )}
            </p>
          </div>
          <div className="pad-acts">
            <Key word="‹ last" spoken="last value" onPress={() => way.go(way.at - 1)} />
            <Key word="next ›" spoken="next value" onPress={way.next} />
            <Key
              word={note === null ? "note, can’t reach" : "note □, can’t reach"}
              spoken="note, can’t reach"
              onPress={() => setOver("note")}
            />
            {way.kind === "words" ? (
              <span />
            ) : (
              <Key word="rub out" dead={!live(draft.pad, "rub out")} onPress={() => hit("rub out")} />
            )}
          </div>
          {way.kind === "words" ? (
            <Words way={way} draft={draft} keep={(words) => void keep(words, draft.instrument, note, words)} />
          ) : (
            <Pad way={way} draft={draft} keep={() => keepPad()} hit={hit} />
          )}
        </>
      )}
      <p className="unseen" role="status">
        {said}
      </p>
      {over === "waiting" && <Waiting page={page} queue={queue} standing={standing} onBack={() => setOver(null)} />}
      {over === "can't" && (
        <Cant
          onWhy={(why) => {
            // A note of a whole thing has to say which value it is about.
            const what = [ask?.part ?? "", ask?.box.name ?? ""].filter((word) => word !== "").join(" ");
            void keep("?", null, `${what}: ${why}${note === null ? "" : `; ${note}`}`, why);
          }}
          onLater={() => {
            setOver(null);
            way.onward(ask?.box.place);
          }}
          onBack={() => setOver(null)}
        />
      )}
      {over === "note" && draft !== null && (
        <Note way={way} draft={draft} onCant={() => setOver("can't")} onBack={() => setOver(null)} />
      )}
      {over === "far" && far !== null && draft !== null && far.place === ask?.box.place && (
        <AskBack
          far={far.why}
          text={textOf(draft.pad)}
          onKeep={() => keepPad(true)}
          onAnew={() => {
            setOver(null);
            way.change({ ...draft, pad: begin(draft.pad.kind, draft.pad.unit, way.value?.units ?? []) });
          }}
        />
      )}
      {over === "ends" && <Ends way={way} onBack={() => setOver(null)} />}
    </div>
  );
}

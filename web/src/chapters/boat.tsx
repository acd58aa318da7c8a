/** Boat: whose file this is, another or a new one, and what can be taken away from it. */
import { useEffect, useRef, useState } from "react";

import { api } from "../api";
import type { BeginAsk, BoatAsk, Boats, Page } from "../sent";
import { go, page as sheet, take, usePage } from "../state";
import { Body, Coming, FileKey, wordsOf } from "./parts";
import { Share } from "./share";

/** The sheets that the program prints, by the names of their files. */
const SHEETS: [name: string, title: string][] = [
  ["survey", "Survey, to fill in"],
  ["survey-filled", "Survey, as written"],
  ["circuit", "Circuit"],
  ["joints", "Joint list"],
  ["clips", "Clips"],
  ["torque", "Torque and seals"],
  ["order", "Order list"],
  ["fill", "Fill and bleed"],
  ["gauge", "Thread gauge"],
  ["tape", "Girth tape"],
  ["report", "Verdict report"],
  ["card", "Get-home card"],
];

function Files({ page }: { page: Page }) {
  const [letter, setLetter] = useState(false);
  const asked = { arrangement: page.arrangement, paper: letter ? "letter" : "a4" };
  return (
    <section aria-labelledby="files">
      <h2 id="files">To take away</h2>
      <p className="keys">
        <FileKey path="/api/export/boat.toml" name="boat.toml">
          Boat file
        </FileKey>
        <FileKey path="/api/export/verdicts.csv" name="verdicts.csv">
          Verdicts as a table
        </FileKey>
        <FileKey path="/api/sheets/all.pdf" asked={asked} name="all.pdf">
          All sheets in one
        </FileKey>
        <FileKey path="/api/export/folder.zip" asked={asked} name="folder.zip">
          The whole folder
        </FileKey>
      </p>
      <fieldset className="choices">
        <legend>Paper</legend>
        {[false, true].map((own) => (
          <label key={String(own)} className={own === letter ? "chosen" : ""}>
            <input type="radio" name="paper" checked={own === letter} onChange={() => setLetter(own)} />
            {own ? "Letter" : "A4"}
          </label>
        ))}
      </fieldset>
      <ul className="sheets">
        {SHEETS.map(([name, title]) => (
          <li key={name}>
            <FileKey path={`/api/sheets/${name}.pdf`} asked={asked} name={`${name}.pdf`}>
              {title}
            </FileKey>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Asks of which several words may be true; they go out with commas between. */
const SEVERAL = new Set(["shares"]);

/** The answer after a word was pressed. */
function pressed(ask: BoatAsk, answer: string, key: string): string {
  if (!SEVERAL.has(ask.key)) {
    return key;
  }
  const chosen = answer.split(",").filter((word) => word !== "");
  const without = chosen.filter((word) => word !== key);
  return (without.length < chosen.length ? without : [...chosen, key]).join(",");
}

/** One of the six asks: words in a row, or a ruled line. */
function Asked({ ask, answer, onAnswer }: { ask: BoatAsk; answer: string; onAnswer: (to: string) => void }) {
  if (ask.choices === null) {
    return (
      <label className="ask">
        <span>{ask.question}</span>
        <input className="ruled" value={answer} onChange={(event) => onAnswer(event.target.value)} />
        <span className="soft">{ask.hint}</span>
      </label>
    );
  }
  return (
    <fieldset className="choices ask">
      <legend>{ask.question}</legend>
      {ask.choices.map((choice) => {
        const chosen = answer.split(",").includes(choice.key);
        return (
          <label key={choice.key} className={chosen ? "chosen" : ""}>
            <input
              type={SEVERAL.has(ask.key) ? "checkbox" : "radio"}
              name={ask.key}
              checked={chosen}
              onChange={() => onAnswer(pressed(ask, answer, choice.key))}
            />
            {choice.words}
          </label>
        );
      })}
      <span className="soft">{ask.hint}</span>
    </fieldset>
  );
}

function NewBoat({ asks, begin }: { asks: BoatAsk[]; begin: (start: BeginAsk) => void }) {
  const [answers, setAnswers] = useState<Record<string, string>>({});
  const first = asks[0];
  // A boat is called something; all else may stay unanswered, and is a box to fill then.
  const named = first === undefined || (answers[first.key] ?? "").trim() !== "";
  return (
    <form
      className="asks"
      onSubmit={(event) => {
        event.preventDefault();
        if (named) {
          begin({ answers });
        }
      }}
    >
      {asks.map((ask) => (
        <Asked
          key={ask.key}
          ask={ask}
          answer={answers[ask.key] ?? ""}
          onAnswer={(to) => setAnswers((had) => ({ ...had, [ask.key]: to }))}
        />
      ))}
      <p className="keys">
        <button type="submit" aria-disabled={!named}>
          Begin this boat
        </button>
      </p>
    </form>
  );
}

/** Three demos, and a boat of one’s own. */
function Begin({ page }: { page: Page }) {
  const [boats, setBoats] = useState<Boats | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const another = usePage((state) => state.another);
  const summary = useRef<HTMLElement>(null);
  // Asked for from the title block, it is unfolded and brought to view.
  useEffect(() => {
    if (another) {
      summary.current?.scrollIntoView();
      summary.current?.focus({ preventScroll: true });
    }
  }, [another]);
  useEffect(() => {
    const gone = new AbortController();
    api.boats(gone.signal).then(setBoats, (why: unknown) => {
      if (!gone.signal.aborted) {
        setFault(wordsOf(why));
      }
    });
    return () => gone.abort();
  }, []);
  const begin = (start: BeginAsk) => {
    api.begin(start).then(
      (answer) => {
        setFault(null);
        take(answer);
        sheet.set({ another: false });
        // Of a new boat nothing is measured: the survey is where she begins.
        if ("answers" in start) {
          sheet.set({ firstBox: true });
          go("survey");
        }
      },
      (why: unknown) => setFault(wordsOf(why)),
    );
  };
  const body =
    boats === null ? (
      <Coming what="Boats" fault={fault} />
    ) : (
      <>
        {fault !== null && (
          <p className="fault" role="alert">
            {fault}
          </p>
        )}
        <section aria-labelledby="demos">
          <h2 id="demos">Boats to try it on</h2>
          <ul className="demos">
            {boats.demos.map((demo) => (
              <li key={demo.key}>
                <button type="button" onClick={() => begin({ demo: demo.key })}>
                  {demo.title}
                </button>
                <span>{demo.says}</span>
              </li>
            ))}
          </ul>
        </section>
        <section aria-labelledby="new-boat">
          <h2 id="new-boat">A new boat</h2>
          <NewBoat asks={boats.asks} begin={begin} />
        </section>
      </>
    );
  if (page.boat === null) {
    return body;
  }
  return (
    <details className="another" open={another} onToggle={(event) => sheet.set({ another: event.currentTarget.open })}>
      <summary ref={summary}>Another boat</summary>
      {body}
    </details>
  );
}

export function Boat({ page }: { page: Page }) {
  const { boat } = page;
  return (
    <Body page={page} chapter="boat">
      {boat === null ? (
        <Begin page={page} />
      ) : (
        <>
          <dl className="pairs">
            <div>
              <dt>boat</dt>
              <dd>
                <b>{boat.name}</b>
              </dd>
            </div>
            <div>
              <dt>file</dt>
              <dd>
                {boat.file} <span className="soft">{boat.hash.slice(0, 8)}</span>
              </dd>
            </div>
            <div>
              <dt>folder</dt>
              <dd>{boat.folder}</dd>
            </div>
            <div>
              <dt>kept</dt>
              <dd>{boat.kept}</dd>
            </div>
          </dl>
          <Begin page={page} />
          <Files page={page} />
          <Share />
        </>
      )}
    </Body>
  );
}

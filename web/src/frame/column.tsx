/** The verdicts' column: what is wrong with the file, the one next act, the open card or the list. */
import { useLayoutEffect, useRef, useState, type FocusEvent, type ReactNode } from "react";
import type { Act, Grade, Page, PageVerdict } from "../sent";
import { Card, Caution } from "../card/card";
import { GradeWord, Shape } from "../card/grade";
import { Says } from "../card/says";
import { Fault, SlipForm } from "../card/slip";
import { counted, isOld } from "../reckoned";
import { chapterOf, open, page, see, usePage, useText, verdictOf } from "../state";

/** The verdicts that a chapter leafs through: its own, or all of them at the boat. */
export function among(answer: Page, chapter: string): PageVerdict[] {
  return chapter === "boat"
    ? answer.verdicts
    : answer.verdicts.filter((verdict) => verdict.chapter === chapter);
}

/** The act that stands at the head of a chapter's column. */
export function nextOf(answer: Page, chapter: string): Act | null {
  return chapter === "boat" ? (answer.next[0] ?? null) : (chapterOf(answer, chapter)?.next ?? null);
}

/**
 * All of it beside the pictures; in the hand the next act and the list are two things to turn to.
 */
export function Column({ part = "all" }: { part?: "all" | "next" | "list" }) {
  const answer = usePage((state) => state.page);
  const chapter = usePage((state) => state.chapter);
  const id = usePage((state) => state.verdict);
  const trial = usePage((state) => state.trial);
  const hold = useHeldFocus();
  if (!answer) {
    return (
      <section className="column" aria-label="Verdicts" {...hold}>
        <Warnings />
      </section>
    );
  }
  const verdict = part === "next" ? undefined : verdictOf(answer, id);
  // On trial the card shows the trial's own answer, in its own dress.
  const tried = trial?.verdicts.find((one) => one.id === verdict?.id);
  const list = among(answer, chapter);
  const leafed = verdict && !list.includes(verdict) ? answer.verdicts : list;
  // What is open is leafed through with its like: the sound ones only where it is sound itself.
  const like = verdict ? leafed.filter((one) => (one.grade === "sound") === (verdict.grade === "sound")) : [];
  return (
    <section className="column" aria-label={part === "next" ? "Next act" : "Verdicts"} tabIndex={part === "all" ? 0 : -1} {...hold}>
      <Warnings />
      {answer.boat === null ? (
        <p>No boat is open. Take one of the boats here, or begin a new one.</p>
      ) : verdict ? (
        <Card verdict={tried ?? verdict} among={like} trial={tried !== undefined} />
      ) : (
        <>
          {part !== "list" && <Next answer={answer} chapter={chapter} />}
          <Counts answer={answer} />
          {part !== "next" && <List answer={answer} verdicts={list} />}
          {part === "all" && chapter === "boat" && <HowTo />}
        </>
      )}
    </section>
  );
}

/**
 * Where a press takes away the very button that was pressed, the focus goes to the head of what
 * stands there now, not to the top of the page.
 */
function useHeldFocus() {
  const box = useRef<HTMLElement>(null);
  const had = useRef(false);
  useLayoutEffect(() => {
    const lost = document.activeElement === null || document.activeElement === document.body;
    if (had.current && lost && box.current) {
      const head = box.current.querySelector<HTMLElement>("[data-head]") ?? box.current;
      head.focus({ preventScroll: true });
    }
  });
  return {
    ref: box,
    onFocus: () => {
      had.current = true;
    },
    onBlur: (event: FocusEvent) => {
      // A button that is taken away has no successor; a hand that goes elsewhere has.
      const to = event.relatedTarget;
      if (to !== null && !event.currentTarget.contains(to)) {
        had.current = false;
      }
    },
    onPointerDown: () => {
      had.current = true;
    },
  };
}

/** What stands above all else: the program gone, a file that can't be read, a refusal. */
export function Warnings(): ReactNode {
  const gone = usePage((state) => state.gone);
  const answer = usePage((state) => state.page);
  const refused = usePage((state) => state.refused);
  const locked = answer?.locked;
  const outside = answer?.changed ?? [];
  const comment = usePage((state) => state.comment);
  return (
    <>
      {gone && (
        <div className="warning" role="alert">
          <Fault text="Hosewright has stopped. What was kept is in the boat file." />
        </div>
      )}
      {locked && (
        <div className="warning" role="alert">
          <Fault
            text={`The boat file can't be read: line ${locked.line}, column ${locked.column}. This is how it stood at ${locked.since}.`}
          />
          <p>{locked.why}</p>
          {locked.found !== "" && (
            <p>
              There: <code>{locked.found}</code>
            </p>
          )}
        </div>
      )}
      {refused && (
        <div className="warning" role="alert">
          <Fault text={refused.why} />
          {refused.expected !== null && <p>{refused.expected}</p>}
          <p className="acts">
            <button type="button" onClick={() => page.set({ refused: null })}>
              Fold away
            </button>
          </p>
        </div>
      )}
      {comment !== null && (
        <div className="warning" role="status">
          <p>{comment.told}</p>
          <p className="acts">
            <button type="button" onClick={() => page.set({ comment: null })}>
              Fold away
            </button>
          </p>
        </div>
      )}
      {!locked && outside.length > 0 && (
        <p className="outside" role="status">
          The file was changed outside at {outside[0]?.at}: {outside.length}{" "}
          {outside.length === 1 ? "value" : "values"}.
        </p>
      )}
    </>
  );
}

export function Next({ answer, chapter }: { answer: Page; chapter: string }) {
  const text = useText();
  const slip = usePage((state) => state.slip);
  const own = chapterOf(answer, chapter);
  const act = nextOf(answer, chapter);
  if (own && !own.ready) {
    return (
      <section className="next" aria-label="Not there yet">
        <h2>Not there yet</h2>
        <p>{own.why}</p>
      </section>
    );
  }
  const verdict = verdictOf(answer, act?.verdict ?? null);
  const at = act?.mark ?? verdict?.mark ?? null;
  const measures = act !== null && act.edit === null && act.place !== null;
  return (
    <section className="next" aria-label="Next" data-card={verdict ? (at ?? "") : undefined}>
      <h2 data-head tabIndex={-1}>{measures ? "Settle next" : "Next"}</h2>
      {act === null ? (
        <p>{own?.why}</p>
      ) : (
        <>
          {verdict && (
            <>
              <p className="next-head">
                <Shape grade={verdict.grade} />
                <b>
                  {at !== null && `${at} `}
                  {verdict.grade}
                </b>
              </p>
              <p className="soft">{verdict.title}</p>
              <Caution text={verdict.caution} />
              <p>
                <Says text={text(verdict.because)} />
              </p>
            </>
          )}
          {measures && <p>{act.label}</p>}
          {slip ? (
            <SlipForm
              key={slip.place}
              place={slip.place}
              how={verdict ? null : slip.how}
              close={() => page.set({ slip: null })}
            />
          ) : (
            <p className="acts">
              <button
                type="button"
                className="act"
                data-act="next"
                onClick={() => (measures && act.place ? page.set({ slip: { place: act.place.path, how: act.label } }) : see(act))}
              >
                {measures ? "Measure it" : at === null ? act.label : `See ${at}`}
              </button>
              {measures && verdict && (
                <button type="button" onClick={() => open(verdict.id)}>
                  See {at ?? "why"}
                </button>
              )}
            </p>
          )}
        </>
      )}
    </section>
  );
}

function Counts({ answer }: { answer: Page }) {
  return (
    <p className="counts" role="group" aria-label={counted(answer.counts)}>
      {GRADES.map((grade) => (
        <span key={grade} aria-hidden="true">
          <Shape grade={grade} mark /> <b>{answer.counts[grade]}</b> {grade}
        </span>
      ))}
    </p>
  );
}

const GRADES: readonly Grade[] = ["unsound", "marginal", "unmeasured", "sound"];

/** What is open, by grade; what is sound is folded. */
export function List({ answer, verdicts }: { answer: Page; verdicts: readonly PageVerdict[] }) {
  const unsound = verdicts.filter((verdict) => verdict.grade === "unsound");
  return (
    <section className="list" aria-label="List of verdicts">
      {verdicts.length === 0 && <p>No verdict is given in this chapter.</p>}
      {verdicts.length > 0 && unsound.length === 0 && (
        <p>
          Nothing unsound here.
          {(chapterOf(answer, "survey")?.unmeasured ?? 0) > 0 && ` ${chapterOf(answer, "survey")?.state ?? ""}.`}
        </p>
      )}
      {GRADES.map((grade) => {
        const own = verdicts.filter((verdict) => verdict.grade === grade);
        if (own.length === 0) {
          return null;
        }
        return grade === "sound" ? (
          <Folded key={grade} grade={grade} verdicts={own} />
        ) : (
          <div key={grade}>
            <h3>
              <GradeWord grade={grade} /> {own.length}
            </h3>
            <Rows verdicts={own} />
          </div>
        );
      })}
      <Remarks answer={answer} />
    </section>
  );
}

/** Most verdicts are sound and nobody looks at them: their rows are made when they are unfolded. */
function Folded({ grade, verdicts }: { grade: Grade; verdicts: readonly PageVerdict[] }) {
  const [unfolded, setUnfolded] = useState(false);
  return (
    <details onToggle={(event) => setUnfolded(event.currentTarget.open)}>
      <summary>
        <GradeWord grade={grade} /> {verdicts.length}
      </summary>
      {unfolded && <Rows verdicts={verdicts} />}
    </details>
  );
}

function Rows({ verdicts }: { verdicts: readonly PageVerdict[] }) {
  return (
    <ul role="list">
      {verdicts.map((verdict) => (
        <Row key={verdict.id} verdict={verdict} />
      ))}
    </ul>
  );
}

function Row({ verdict }: { verdict: PageVerdict }) {
  const text = useText();
  const old = usePage(
    (state) => state.reckoning && state.page !== null && isOld(verdict, state.page, state.pending),
  );
  const chosen = usePage((state) => state.chosen !== null && state.chosen === verdict.mark);
  return (
    <li className={`${verdict.grade}${chosen ? " chosen" : ""}`}>
      <button type="button" data-verdict={verdict.id} onClick={() => open(verdict.id)}>
        <Shape grade={verdict.grade} mark outline={old} />
        <span>
          {/* A title that ends with its mark says it already. */}
          <b>{verdict.title}</b>
          <span className="unseen">, {verdict.grade}</span>
          {old && <span className="soft"> being reckoned</span>}
          {verdict.grade !== "sound" && (
            <span className="why">
              <Says text={text(verdict.because)} />
            </span>
          )}
        </span>
      </button>
    </li>
  );
}

/** Faults of the file that stop nothing. */
function Remarks({ answer }: { answer: Page }) {
  if (answer.remarks.length === 0) {
    return null;
  }
  return (
    <details>
      <summary>
        {answer.remarks.length} {answer.remarks.length === 1 ? "remark" : "remarks"} on the file
      </summary>
      <ul role="list" className="remarks">
        {answer.remarks.map((remark, at) => (
          <li key={at}>
            <span className="soft">
              line {remark.place.line}, column {remark.place.column}:
            </span>{" "}
            {remark.message} {remark.expected}
          </li>
        ))}
      </ul>
    </details>
  );
}

function HowTo() {
  const [folded, setFolded] = useState(() => localStorage.getItem("hosewright.howto") === "folded");
  if (folded) {
    return null;
  }
  return (
    <section className="howto" aria-label="How to read this sheet">
      <h3>How to read this sheet</h3>
      <p>The strip below is your loop, cut at the pump and laid out straight. Press any mark on it.</p>
      <p>
        Dashed and in brackets means <span className="box assumed"><i>(assumed)</i></span>: nobody has
        measured it. An empty box waits for a pencil. ± means: sure it lies between.
      </p>
      <p className="acts">
        <button
          type="button"
          onClick={() => {
            localStorage.setItem("hosewright.howto", "folded");
            setFolded(true);
          }}
        >
          Fold away
        </button>
      </p>
    </section>
  );
}

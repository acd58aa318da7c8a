/** The verdict that is open: what is wrong, by how much, what to do, and why. */
import { useEffect, useRef, useState, type ReactNode } from "react";
import { api } from "../api";
import type { PageVerdict, Working } from "../sent";
import { beside, isOld } from "../reckoned";
import { carryOut, heed, open, page, usePage, useShut, useText } from "../state";
import { Shape } from "./grade";
import { labelOf } from "./label";
import { Margin } from "./margin";
import { Says } from "./says";
import { SlipForm } from "./slip";
import { WorkingOf } from "./working";

export interface CardProps {
  verdict: PageVerdict;
  /** The list that it is leafed through with. */
  among: readonly PageVerdict[];
  /** The verdict is that of a trial: nothing of it is in the boat file. */
  trial?: boolean;
}

/** The whole working; that of a sound verdict is asked for, and asked anew when the file has changed. */
function useWorking(verdict: PageVerdict): Working {
  const { id, grade, working } = verdict;
  const arrangement = usePage((state) => state.arrangement);
  const number = usePage((state) => state.page?.number);
  const [asked, setAsked] = useState<{ id: string; working: Working } | null>(null);
  const sent = working.steps.length > 0 || working.inputs.length > 0 || working.sources.length > 0;
  useEffect(() => {
    if (sent || grade !== "sound") {
      return undefined;
    }
    const ask = new AbortController();
    api.working(arrangement, id, ask.signal).then(
      (whole) => setAsked({ id, working: whole }),
      (fault: unknown) => {
        if (!ask.signal.aborted) {
          heed(fault);
        }
      },
    );
    return () => ask.abort();
  }, [arrangement, grade, id, number, sent]);
  return !sent && asked?.id === id ? asked.working : working;
}

export function Card({ verdict, among, trial = false }: CardProps) {
  const text = useText();
  const shut = useShut();
  const working = usePage((state) => state.working);
  const slip = usePage((state) => state.slip);
  const old = usePage(
    (state) => state.reckoning && state.page !== null && !trial && isOld(verdict, state.page, state.pending),
  );
  const whole = useWorking(verdict);
  const head = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    head.current?.closest(".column")?.scrollTo({ top: 0 });
  }, [verdict.id]);

  const { settles } = verdict;
  const name = `${verdict.mark ?? verdict.title} ${verdict.grade}`;
  return (
    <section
      className={`card ${verdict.grade}${old ? " old" : ""}${trial ? " on-trial" : ""}`}
      aria-label={name}
      data-card={verdict.mark ?? ""}
    >
      <header className="card-because">
        <div className="card-head">
          <h2 ref={head} data-head tabIndex={-1}>
            <Shape grade={verdict.grade} outline={old} />
            <span>
              {verdict.mark !== null && <>{verdict.mark} </>}
              {old ? "being reckoned" : verdict.grade}
              {trial && <span className="soft"> trial</span>}
            </span>
          </h2>
          {among.length > 1 && <Leaf verdict={verdict} among={among} />}
        </div>
        <p className="soft title">{verdict.title}</p>
        <Caution text={verdict.caution} />
        <p className="because">
          <Says text={text(verdict.because)} />
        </p>
        <p className="soft">
          {verdict.chance_text && (
            <>
              <Says text={text(verdict.chance_text)} />
              {" · "}
            </>
          )}
          {verdict.basis_text}
        </p>
        {verdict.on_line && <Margin line={verdict.on_line} grade={verdict.grade} />}
      </header>
      <div className="card-act">
        {text(verdict.remedy) !== "" && (
          <p className="remedy">
            <Says text={text(verdict.remedy)} />
          </p>
        )}
        {settles && (
          <p className="remedy">
            <Says text={settles.how} />
          </p>
        )}
        <p className="acts">
          {verdict.remedy_edits.map((remedy, at) => (
            <button
              type="button"
              key={`${remedy.place.path} ${remedy.to}`}
              className={at === 0 && slip === null ? "act" : undefined}
              disabled={shut || trial}
              data-act={at === 0 ? "remedy" : undefined}
              onClick={() =>
                void carryOut(labelOf(remedy.label, verdict.mark), [{ place: remedy.place.path, to: remedy.to }])
              }
            >
              <Says text={sentence(remedy.label)} />
            </button>
          ))}
          {settles && slip === null && (
            <button
              type="button"
              className={verdict.remedy_edits.length === 0 ? "act" : undefined}
              disabled={shut}
              data-act="settle"
              onClick={() => page.set({ slip: { place: settles.place.path, how: settles.how } })}
            >
              Settle this
            </button>
          )}
          <button
            type="button"
            aria-expanded={working}
            onClick={() => page.set({ working: !working })}
          >
            {working ? "Fold working" : "Working"}
          </button>
          <button type="button" onClick={() => open(null)}>
            All verdicts
          </button>
        </p>
        {slip && (
          <SlipForm
            key={slip.place}
            place={slip.place}
            how={slip.how}
            close={() => page.set({ slip: null })}
          />
        )}
      </div>
      {working && <WorkingOf working={whole} />}
    </section>
  );
}

function sentence(label: string): string {
  return label.charAt(0).toUpperCase() + label.slice(1);
}

/** A caution: never folded, above the act that it is about. */
export function Caution({ text }: { text: string | undefined }): ReactNode {
  return text === undefined ? null : (
    <p className="caution">
      <b>Caution</b> {text}
    </p>
  );
}

function Leaf({ verdict, among }: CardProps) {
  const at = among.findIndex((one) => one.id === verdict.id);
  const turn = (step: 1 | -1) => {
    const next = beside(among, verdict.id, step);
    if (next) {
      open(next.id);
    }
  };
  return (
    <span className="leaf">
      <span className="soft">
        {at + 1} of {among.length}
      </span>
      <button type="button" aria-label="Previous verdict" onClick={() => turn(-1)}>
        ‹
      </button>
      <button type="button" aria-label="Next verdict" onClick={() => turn(1)}>
        ›
      </button>
    </span>
  );
}

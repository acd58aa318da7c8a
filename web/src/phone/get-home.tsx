/**
 * Get home, at sea: what is seen, what to do, how long there is. Every sentence about safety is the card's own, for
 * it differs by boat; this page holds none.
 */
import { useEffect, useRef, useState } from "react";

import { Gone, Refused, api } from "../api";
import type { Card, CardFact, CardSign, CardValve, Page } from "../sent";
import { GradeWord } from "../card/grade";
import { missed } from "../chapters/parts";
import { Loop } from "../loop/loop";
import { go, setNight, usePage, useText } from "../state";
import { clock, parted, readPressed, type Pressed } from "./home";

const PRESSED = "hosewright.symptom";

function stored(): Pressed | null {
  try {
    return readPressed(localStorage.getItem(PRESSED));
  } catch {
    return null;
  }
}
function store(pressed: Pressed | null): void {
  try {
    if (pressed === null) {
      localStorage.removeItem(PRESSED);
    } else {
      localStorage.setItem(PRESSED, JSON.stringify(pressed));
    }
  } catch {
    // It stands until the page is closed.
  }
}

/** The clock since the symptom was pressed; a reader of screens hears it on the minute only. */
function Clock({ since }: { since: number }) {
  const [now, setNow] = useState(Date.now());
  useEffect(() => {
    const timer = setInterval(() => setNow(Date.now()), 1000);
    return () => clearInterval(timer);
  }, []);
  const told = clock(now - since);
  const minutes = Math.floor((now - since) / 60_000);
  return (
    <>
      <span className="home-clock" aria-hidden="true">
        {told}
      </span>
      <span className="unseen" role="status">
        {minutes > 0 ? (minutes === 1 ? "1 minute" : `${minutes} minutes`) : ""}
      </span>
    </>
  );
}

function Fact({ fact }: { fact: CardFact }) {
  const text = useText();
  if (fact.known !== null) {
    return (
      <>
        {text(fact.known)}
        {fact.from !== null && fact.from !== "the file" && <span className="soft"> {fact.from}</span>}
      </>
    );
  }
  return (
    <span className="soft">
      <GradeWord grade="unmeasured" />
      {fact.settles !== null && `: ${fact.settles.how}`}
    </span>
  );
}

/**
 * What stays on view under a sign: the alarm, and what the engine may still give as the program words it, with what to
 * do first and the condition. The bare figure holds of a boat with nothing wrong, and is not shown here.
 */
function Limits({ card, sign }: { card: Card; sign: CardSign }) {
  const text = useText();
  const kept = card.limits.filter((limit) => /^alarm/i.test(limit.what));
  return (
    <div className="home-limits" role="group" aria-label="Limits">
      {sign.still !== null && <p className="home-still">{text(sign.still)}</p>}
      <dl>
        {kept.map((limit) => (
          <div key={limit.what}>
            <dt>{limit.what}</dt>
            <dd>{limit.is.known === null ? "not reckoned" : text(limit.is.known)}</dd>
          </div>
        ))}
      </dl>
    </div>
  );
}

function Cautions({ lines }: { lines: string[] }) {
  return (
    <>
      {lines.map((line) => (
        <p key={line} className="home-caution">
          <b>Caution</b> {line}
        </p>
      ))}
    </>
  );
}

function Valve({ valve }: { valve: CardValve }) {
  const text = useText();
  return (
    <li>
      <p>
        <b>{valve.title}</b>
        {valve.marks.length > 0 && ` (${valve.marks.join(", ")})`}
        {valve.kind === null ? ": has no valve" : valve.shut_now ? ": is shut now" : ""}
      </p>
      <p>
        where: <Fact fact={valve.place} />
      </p>
      {valve.kind !== null && (
        <p>
          shut: <Fact fact={valve.way} />
        </p>
      )}
      {valve.untried && <p>new valve: not tried</p>}
      {valve.feels !== null && <p>felt: {valve.feels}</p>}
      {valve.worked !== null && <p>last worked: {valve.worked}</p>}
      {valve.secs !== null && <p>to get there and shut it: {Math.round(valve.secs)} s</p>}
      {valve.drowned_at !== null && <p>out of reach with water at {text(valve.drowned_at)}</p>}
      <p>{valve.shuts}</p>
      {valve.with.length > 0 && <p>with it: {valve.with.join(", ")}</p>}
      {valve.cuts_off !== null && <p>cut off then: {valve.cuts_off}</p>}
      {valve.loses.length > 0 && <p>without water then: {valve.loses.join(", ")}</p>}
      <p className="soft">{valve.costs}</p>
    </li>
  );
}

function Valves({ card }: { card: Card }) {
  return (
    <section aria-labelledby="home-valves">
      <h2 id="home-valves" tabIndex={-1}>
        Which valve shuts what
      </h2>
      {card.valves.length === 0 ? (
        <p>
          <GradeWord grade="unmeasured" />: the boat file names no valve.
        </p>
      ) : (
        <ul className="home-valves">
          {card.valves.map((valve) => (
            <Valve key={valve.key} valve={valve} />
          ))}
        </ul>
      )}
    </section>
  );
}

/** All that the card holds beside the symptom. */
function Rest({ card }: { card: Card }) {
  return (
    <>
      <Valves card={card} />
      <section aria-labelledby="home-limits">
        <h2 id="home-limits">Limits</h2>
        <dl className="home-list">
          <div>
            <dt>Cooling</dt>
            <dd>{card.cooling}</dd>
          </div>
          <div>
            <dt>Exhaust</dt>
            <dd>
              {card.exhaust_settles === null ? (
                card.exhaust
              ) : (
                <>
                  <GradeWord grade="unmeasured" />: {card.exhaust_settles.how}
                </>
              )}
            </dd>
          </div>
          {card.limits.map((limit) => (
            <div key={limit.what}>
              <dt>{limit.what}</dt>
              <dd>
                <Fact fact={limit.is} />
              </dd>
            </div>
          ))}
        </dl>
      </section>
      <section aria-labelledby="home-others">
        <h2 id="home-others">Other ways to go on</h2>
        {card.others.length === 0 && <p>The file has none.</p>}
        {card.others.map((other) => (
          <div key={other.key} className="home-other">
            <p>
              <b>{other.key}</b> <GradeWord grade={other.grade} /> {other.tried}
            </p>
            {other.wants.length > 0 && <p>it wants: {other.wants.join("; ")}</p>}
            {other.wants.length > 0 && (
              <p>
                {other.lacks.length === 0 ? "The shelf has it." : <b>Not aboard: {other.lacks.join("; ")}.</b>}
              </p>
            )}
            <ol>
              {other.steps.map((step) => (
                <li key={step}>{step}</li>
              ))}
            </ol>
            <p>
              greatest steady power: <Fact fact={other.power} />
            </p>
          </div>
        ))}
      </section>
      <section aria-labelledby="home-spares">
        <h2 id="home-spares">{card.refitted ? "Spares, once the refit is done" : "Spares"}</h2>
        {card.spares.length > 0 && <p>aboard: {card.spares.join("; ")}</p>}
        {card.spares_unsaid.length > 0 && <p>not named in the file: {card.spares_unsaid.join("; ")}</p>}
      </section>
    </>
  );
}

export function GetHome({ page }: { page: Page }) {
  const night = usePage((state) => state.night);
  const [card, setCard] = useState<Card | null>(null);
  const [missing, setMissing] = useState<string | null>(null);
  const [pressed, setPressed] = useState<Pressed | null>(stored);
  const [picture, setPicture] = useState(false);
  const body = useRef<HTMLDivElement>(null);
  const returns = usePage((state) => state.returns);

  useEffect(() => {
    const gone = new AbortController();
    api.card(page.arrangement, gone.signal).then(
      (answer) => {
        setCard(answer);
        setMissing(null);
      },
      (fault: unknown) => {
        if (!gone.signal.aborted) {
          missed(fault);
          setMissing(
            fault instanceof Gone ? "The boat’s computer does not answer." : fault instanceof Refused ? fault.why : String(fault),
          );
        }
      },
    );
    return () => gone.abort();
  }, [page.arrangement, page.number, returns]);

  const choose = (to: Pressed | null) => {
    store(to);
    setPressed(to);
    setPicture(false);
    body.current?.scrollTo({ top: 0 });
  };
  const sign = pressed === null ? null : (card?.signs.find((one) => one.sign === pressed.sign) ?? null);
  const act = sign === null ? null : parted(sign.act);
  const toValves = () => {
    setPicture(false);
    // The heading is drawn by then.
    requestAnimationFrame(() => {
      const head = document.getElementById("home-valves");
      head?.scrollIntoView();
      head?.focus({ preventScroll: true });
    });
  };

  return (
    <div className="get-home">
      <header className="home-head">
        <b>{sign === null ? "Get home" : sign.sign}</b>
        {sign !== null && pressed !== null && <Clock since={pressed.at} />}
        <button type="button" aria-pressed={night} onClick={() => setNight(!night)}>
          red light
        </button>
        <button type="button" onClick={() => go("boat")}>
          leave
        </button>
      </header>
      {card === null ? (
        <div className="home-body">
          <p>{missing ?? "The card is being fetched."}</p>
        </div>
      ) : (
        <>
          {card.first.length > 1 && (
            <div className="home-top">
              <Cautions lines={card.first.slice(1)} />
            </div>
          )}
          <div className="home-body" ref={body} tabIndex={0} role="region" aria-label="What to do">
            {missing !== null && <p>{missing} This is the card as it was.</p>}
            {picture ? (
              <div className="home-loop">
                <Loop />
              </div>
            ) : act === null ? (
              <>
                <p className="home-next">{card.first[0]}</p>
                <div className="home-signs" role="group" aria-label="What is seen">
                  {card.signs.map((one) => (
                    <button
                      key={one.sign}
                      type="button"
                      className="key"
                      onClick={() => choose({ sign: one.sign, at: Date.now() })}
                    >
                      {one.sign}
                    </button>
                  ))}
                </div>
                <div className="home-short">
                  <Cautions lines={card.cautions} />
                </div>
                <Rest card={card} />
              </>
            ) : (
              <>
                <p className="home-first">{act.first}</p>
                {act.rest !== "" && <p className="home-next">{act.rest}</p>}
                <Cautions lines={card.cautions} />
                <p className="soft">What it may be, and how likely: not reckoned yet.</p>
                <Rest card={card} />
              </>
            )}
          </div>
          {sign !== null && <Limits card={card} sign={sign} />}
          <div className="home-foot" role="group" aria-label="Keys">
            {act !== null && (
              <button type="button" className="key" onClick={() => choose(null)}>
                other sign
              </button>
            )}
            <button type="button" className="key" aria-pressed={picture} onClick={() => setPicture(!picture)}>
              loop
            </button>
            <button type="button" className="key" onClick={toValves}>
              valves
            </button>
          </div>
        </>
      )}
    </div>
  );
}

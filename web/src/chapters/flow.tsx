/** Flow: arrangements and states side by side, and sliders that try what is not in the boat file. */
import { useEffect, useMemo, useRef, useState } from "react";

import { api } from "../api";
import type { Flow as FlowAnswer, FlowState, Page, Text, Trial, TrialAsk } from "../sent";
import { GradeWord } from "../card/grade";
import { page as sheet, setArrangement, setState, usePage, useText } from "../state";
import { Body, Coming, missed, wordsOf } from "./parts";
import { Keep } from "./trial-keep";
import { asked, begins, FOULING, oneAtATime, SEA, tried, UNTRIED, type Tried } from "./trial";

/** What a cell says. */
interface Figure {
  text: Text;
}

/** The flow of every arrangement; one that can't be had leaves the others standing. */
function useFlows(page: Page) {
  const [got, setGot] = useState<{ number: number; by: ReadonlyMap<string, FlowAnswer> }>({
    number: -1,
    by: new Map(),
  });
  const [fault, setFault] = useState<string | null>(null);
  const keys = useMemo(
    () => (page.arrangements.length > 0 ? page.arrangements.map((one) => one.key) : [""]),
    [page.arrangements],
  );
  const list = keys.join("\n");
  const returns = usePage((state) => state.returns);
  useEffect(() => {
    const gone = new AbortController();
    void (async () => {
      // The one that is open comes first; the others follow one after the other.
      const order = [...list.split("\n")].sort((a) => (a === (page.arrangement ?? "") ? -1 : 0));
      for (const key of order) {
        try {
          const answer = await api.flow(key === "" ? null : key, gone.signal);
          setGot((had) => ({ number: page.number, by: new Map(had.by).set(key, answer) }));
          setFault(null);
        } catch (why) {
          if (gone.signal.aborted) {
            return;
          }
          setFault(wordsOf(why));
          missed(why);
        }
      }
    })();
    return () => gone.abort();
  }, [list, page.arrangement, page.number, returns]);
  return { keys, by: got.by, fault };
}

const HEADS: [name: string, of: (figures: NonNullable<FlowState["figures"]>) => Figure | null][] = [
  ["out of the engine", (own) => own.out],
  ["into it", (own) => own.back],
  ["through the engine", (own) => own.flow],
  ["through the coolers", (own) => own.cooled],
  ["could be shed", (own) => own.reserve],
  ["at the pump’s inlet", (own) => own.suction],
];

function Cells({ state }: { state: FlowState | undefined }) {
  const text = useText();
  if (state === undefined) {
    return (
      <td colSpan={HEADS.length} className="soft">
        coming
      </td>
    );
  }
  if (state.figures === null) {
    return (
      <td colSpan={HEADS.length}>
        {state.came === "unmeasured" && <GradeWord grade="unmeasured" />} {state.why}
        {state.settles !== null && ` ${state.settles.how}`}
      </td>
    );
  }
  const figures = state.figures;
  return HEADS.map(([name, of]) => {
    const figure = of(figures);
    return (
      <td key={name} className="figure">
        {figure === null ? "–" : text(figure.text)}
      </td>
    );
  });
}

function Table({ page }: { page: Page }) {
  const text = useText();
  const open = usePage((state) => state.state);
  const { keys, by, fault } = useFlows(page);
  const named = (key: string) => page.arrangements.find((one) => one.key === key)?.title ?? "as it stands";
  const all = [...by.values()];
  if (all.length === 0) {
    return <Coming what="Flow" fault={fault} />;
  }
  const missing = by.get(page.arrangement ?? "")?.arrangements.flatMap((own) => own.missing) ?? [];
  // States in the order of the file; one in which she may lie or move stands once for each.
  const rows: { state: string; duty: string; one: FlowState }[] = [];
  for (const own of all.flatMap((answer) => answer.arrangements.flatMap((one) => one.states))) {
    if (!rows.some((row) => row.state === own.state && row.duty === own.duty)) {
      rows.push({ state: own.state, duty: own.duty, one: own });
    }
  }
  const title = (key: string) => page.states.find((state) => state.key === key)?.title ?? key;
  return (
    <>
      {fault !== null && <p className="fault">{fault}</p>}
      {missing.map((one) => (
        <p key={one.why}>
          <GradeWord grade="unmeasured" /> {one.why} {one.settles.how}
        </p>
      ))}
      {rows.length > 0 && (
        <div className="wide" tabIndex={0} role="region" aria-label="Arrangements and states side by side">
          <table className="flows">
            <caption className="unseen">Arrangements and states side by side</caption>
            <thead>
              <tr>
                <th scope="col">arrangement</th>
                {HEADS.map(([name]) => (
                  <th key={name} scope="col" className="figure">
                    {name}
                  </th>
                ))}
              </tr>
            </thead>
            {rows.map((row) => (
              <tbody key={`${row.state} ${row.duty}`}>
                <tr className="flow-state">
                  <th scope="rowgroup" colSpan={HEADS.length + 1}>
                    <button type="button" className="line-key" aria-pressed={open === row.state} onClick={() => setState(row.state)}>
                      {title(row.state)}
                    </button>{" "}
                    <span className="soft">
                      {row.duty} · {text(row.one.revs.text)} · {text(row.one.power.text)} · sea {text(row.one.sea.text)}
                    </span>
                  </th>
                </tr>
                {keys.map((key) => (
                  <tr key={key} aria-current={key === (page.arrangement ?? "") ? "true" : undefined}>
                    <th scope="row">
                      {key === "" ? (
                        named(key)
                      ) : (
                        <button type="button" className="line-key" onClick={() => setArrangement(key)}>
                          {named(key)}
                        </button>
                      )}
                    </th>
                    <Cells
                      state={by
                        .get(key)
                        ?.arrangements.flatMap((own) => own.states)
                        .find((own) => own.state === row.state && own.duty === row.duty)}
                    />
                  </tr>
                ))}
              </tbody>
            ))}
          </table>
        </div>
      )}
      <Beside answer={by.get(page.arrangement ?? "")} />
    </>
  );
}

/** What stands in for what nobody measured, and what the figures leave out. */
function Beside({ answer }: { answer: FlowAnswer | undefined }) {
  const text = useText();
  const own = answer?.arrangements[0];
  if (own === undefined || (own.assumed.length === 0 && own.notes.length === 0)) {
    return null;
  }
  return (
    <section aria-labelledby="beside">
      <h2 id="beside">What the figures rest on</h2>
      <ul>
        {own.assumed.map((one) => (
          <li key={one.what}>
            {one.what}: <i className="assumed">({text(one.value)})</i> <b>assumed</b>{" "}
            <span className="soft">{one.source}</span>
          </li>
        ))}
        {own.notes.map((note) => (
          <li key={note.metric}>{text(note)}</li>
        ))}
      </ul>
    </section>
  );
}

function Slider({
  name,
  word,
  from,
  to,
  begin,
  value,
  onValue,
}: {
  name: string;
  /** What a place of the slider is called. */
  word: (value: number) => string;
  from: number;
  to: number;
  begin: number;
  value: number | null;
  onValue: (to: number | null) => void;
}) {
  return (
    <label className={value === null ? "slider" : "slider on-trial"}>
      <span>{name}</span>
      <input
        type="range"
        min={from}
        max={to}
        step={1}
        value={value ?? begin}
        aria-valuetext={value === null ? `${word(begin)}, as in the boat file` : `${word(value)}, trial`}
        onChange={(event) => onValue(Number(event.target.value))}
      />
      <output>{value === null ? "as in the file" : word(value)}</output>
    </label>
  );
}

function Trials({ page }: { page: Page }) {
  const text = useText();
  const units = usePage((state) => state.units);
  const state = usePage((own) => own.state);
  const trial = usePage((own) => own.trial);
  const [now, setNow] = useState<Tried>(UNTRIED);
  const [fault, setFault] = useState<string | null>(null);
  const [told, setTold] = useState(units);
  if (told !== units) {
    // A number of degrees says something else in the other units: the sea is that of the file again.
    setTold(units);
    setNow({ ...now, sea: null });
  }
  const wanted = useRef(true);
  const ask = useRef(
    oneAtATime<TrialAsk, Trial>(
      (own) => api.trial(own),
      (answer) => {
        if (wanted.current) {
          setFault(null);
          sheet.set({ trial: answer });
        }
      },
      (why) => setFault(wordsOf(why)),
    ),
  );
  useEffect(() => {
    wanted.current = tried(now);
    if (wanted.current) {
      ask.current({ arrangement: page.arrangement, state, ...asked(now, units) });
    } else {
      sheet.set({ trial: null });
      setFault(null);
    }
  }, [now, page.arrangement, page.number, state, units]);
  // A trial ends where its sliders are no longer on view.
  useEffect(
    () => () => {
      wanted.current = false;
      sheet.set({ trial: null });
    },
    [],
  );
  const sea = SEA[units];
  const set = (change: Partial<Tried>) => setNow((had) => ({ ...had, ...change }));
  const own = page.states.find((one) => one.key === state);
  const title = own?.title ?? state;
  const from = begins(own?.begins, units);
  return (
    <section aria-labelledby="trial" className="trials">
      <h2 id="trial">Trial{title === null ? "" : `: ${title}`}</h2>
      <Slider
        name="sea"
        word={(value) => `${value} ${sea.unit}`}
        from={sea.from}
        to={sea.to}
        begin={from.sea}
        value={now.sea}
        onValue={(to) => set({ sea: to })}
      />
      <Slider
        name="load, of full power"
        word={(value) => `${value} %`}
        from={0}
        to={100}
        begin={from.load}
        value={now.load}
        onValue={(to) => set({ load: to })}
      />
      <Slider
        name="on the coolers"
        word={(value) => FOULING[value] ?? ""}
        from={0}
        to={FOULING.length - 1}
        begin={from.fouling}
        value={now.fouling}
        onValue={(to) => set({ fouling: to })}
      />
      {fault !== null && (
        <p className="fault" role="alert">
          {fault}
        </p>
      )}
      {tried(now) && (
        <>
          <p>
            <b className="on-trial">Trial only. Not in the boat file.</b>
          </p>
          {trial !== null && (
            <table className="trial">
              <thead>
                <tr>
                  <th scope="col">what</th>
                  <th scope="col" className="figure">
                    now
                  </th>
                  <th scope="col" className="figure">
                    trial
                  </th>
                  <th scope="col">on trial</th>
                </tr>
              </thead>
              <tbody>
                {trial.rows.map((row) => (
                  <tr key={row.title}>
                    <th scope="row">{row.title}</th>
                    <td className="figure">{text(row.now)}</td>
                    <td className="figure">
                      <span className="on-trial">{text(row.trial)}</span> <i>trial</i>
                    </td>
                    <td>{row.grade !== null && <GradeWord grade={row.grade} />}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          )}
          {trial !== null && (
            <Keep
              keep={trial.keep}
              asked={{ arrangement: page.arrangement, state, ...asked(now, units) }}
              title={title ?? "this state"}
              kept={() => setNow(UNTRIED)}
            />
          )}
          <p className="keys">
            <button type="button" onClick={() => setNow(UNTRIED)}>
              Let go
            </button>
          </p>
        </>
      )}
    </section>
  );
}

export function Flow({ page }: { page: Page }) {
  return (
    <Body page={page} chapter="flow">
      <Trials page={page} />
      <Table page={page} />
    </Body>
  );
}

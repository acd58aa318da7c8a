/** The title block along the foot. */
import { useState } from "react";
import { Shape } from "../card/grade";
import { counted } from "../reckoned";
import { page, putBack, setNight, setUnits, takeBack, toAnother, usePage, useShut } from "../state";
import { print } from "./printout";

export function TitleBlock() {
  const answer = usePage((state) => state.page);
  const arrangement = usePage((state) => state.arrangement);
  const state = usePage((now) => now.state);
  const units = usePage((now) => now.units);
  const night = usePage((now) => now.night);
  const boat = answer?.boat;
  const named = answer?.arrangements.find((one) => one.key === arrangement)?.title;
  const used = answer?.states.find((one) => one.key === state)?.title;
  return (
    <footer className="title-block">
      <div className="cell boat">
        <span className="caption">boat</span>
        <span className="boat-name">
          <b>{boat?.name ?? "none"}</b>
          {boat && (
            <button type="button" onClick={toAnother}>
              another boat
            </button>
          )}
        </span>
      </div>
      <div className="cell way">
        <span className="caption">arrangement, state</span>
        <span>{[named ?? (boat ? "as it stands" : "–"), used].filter(Boolean).join(", ")}</span>
      </div>
      <div className="cell file">
        <span className="caption">file {boat?.hash ?? ""}</span>
        <span>{boat ? `kept ${boat.kept}` : "–"}</span>
      </div>
      <div className="cell tally">
        <span className="caption">verdicts</span>
        <span role="img" aria-label={answer ? counted(answer.counts) : "none"}>
          {answer &&
            (["unsound", "marginal", "unmeasured", "sound"] as const).map((grade) => (
              <span key={grade} aria-hidden="true">
                <Shape grade={grade} mark />
                {answer.counts[grade]}
              </span>
            ))}
        </span>
      </div>
      <Back />
      <div className="cell controls">
        <span className="words" role="group" aria-label="Units">
          <button type="button" aria-pressed={units === "metric"} onClick={() => setUnits("metric")}>
            mm
          </button>
          <button type="button" aria-pressed={units === "imperial"} onClick={() => setUnits("imperial")}>
            inch
          </button>
        </span>
        <button type="button" aria-pressed={night} onClick={() => setNight(!night)}>
          red light
        </button>
        <button type="button" onClick={() => void print()}>
          print
        </button>
        <button type="button" onClick={() => page.set({ over: "keys" })}>
          keys
        </button>
      </div>
    </footer>
  );
}

/** Steps that another device took are asked about once. */
const OTHERS = /\bphone \d/;

function Back() {
  const history = usePage((state) => state.page?.history);
  const shut = useShut();
  const [asked, setAsked] = useState(false);
  const over = usePage((state) => state.over === "history");
  const back = history?.back ?? null;
  const forth = history?.forth ?? null;
  const take = () => {
    if (back !== null && OTHERS.test(back) && !asked) {
      setAsked(true);
      return;
    }
    setAsked(false);
    void takeBack();
  };
  return (
    <div className="cell back">
      <button type="button" disabled={shut || back === null} onClick={take} title={back ?? undefined}>
        {asked ? `${back ?? ""}: take it back?` : back === null ? "nothing to take back" : `take back: ${back}`}
      </button>
      {forth !== null && (
        <button type="button" disabled={shut} onClick={() => void putBack()} title={forth}>
          put back
        </button>
      )}
      {(history?.steps.length ?? 0) > 0 && (
        <button
          type="button"
          aria-expanded={over}
          onClick={() => page.set({ over: over ? null : "history" })}
        >
          steps
        </button>
      )}
      {over && (
        <div className="steps" role="group" aria-label="Steps of this run">
          <ol>
            {history?.steps.map((step, at) => (
              <li key={at}>{step}</li>
            ))}
          </ol>
        </div>
      )}
    </div>
  );
}

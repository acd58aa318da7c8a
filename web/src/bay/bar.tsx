/** What can be asked of the picture: from where, cut, measured, the engine moved. Every drag has its button here. */
import { memo, useEffect, useState, type ReactNode } from "react";
import { layoutOf, useWindow } from "../frame/size";
import { usePage } from "../state";
import { DEGREES_15, away, lookFrom, near, placeOf, putEnd, setCut, setEngine, setMeasuring, shiftShare, stepCut, turnBy, whole } from "./acts";
import type { Bay } from "./form";
import { looksFor, LOOK_WORDS, type Look } from "./looks";
import { endOf } from "./marks";
import type { Engine } from "./pose";
import { CUTS, type Cut } from "./section";
import { bayStore, useBayOf, type BayState } from "./store";

export const Bar = memo(function Bar({ bay }: { bay: Bay }) {
  const [width, height] = useWindow();
  const [open, setOpen] = useState(false);
  const folds = layoutOf(width, height) === "phone";
  const measuring = useBayOf((state) => state.measuring);
  const hands = useBayOf((state) => state.hands);
  return (
    <div className="bay-bars">
      <div className="bay-bar">
        <Looks bay={bay} />
        {folds && (
          <button type="button" aria-expanded={open} onClick={() => setOpen(!open)}>
            more
          </button>
        )}
        {(!folds || open) && <More bay={bay} />}
      </div>
      {hands && (!folds || open) && <Hands bay={bay} />}
      {measuring && <Measure bay={bay} />}
    </div>
  );
});

function Looks({ bay }: { bay: Bay }) {
  const chosen = usePage((state) => state.chosen);
  const look = useBayOf((state) => state.look);
  return (
    <label className="bay-ask">
      look from{" "}
      <select value={look ?? ""} onChange={(event) => lookFrom(bay, event.target.value as Look, chosen)}>
        {look === null && (
          <option value="" disabled>
            as turned
          </option>
        )}
        {looksFor(bay, chosen).map((one) => (
          <option key={one} value={one}>
            {LOOK_WORDS[one]}
          </option>
        ))}
      </select>
    </label>
  );
}

function More({ bay }: { bay: Bay }) {
  const measuring = useBayOf((state) => state.measuring);
  const hands = useBayOf((state) => state.hands);
  return (
    <>
      <Section bay={bay} />
      <span className="words" role="group" aria-label="Tools">
        <button type="button" aria-pressed={measuring} onClick={() => setMeasuring(!measuring)}>
          measure
        </button>
        <button type="button" aria-pressed={hands} onClick={() => bayStore.set({ hands: !hands })}>
          by press
        </button>
      </span>
      {bay.moves !== null && <EngineWords />}
      <span className="words" role="group" aria-label="What is drawn">
        <Toggle name="keepOuts">keep-outs</Toggle>
        <Toggle name="drivers">drivers</Toggle>
        {bay.scan !== null && <Toggle name="scan">scan</Toggle>}
      </span>
    </>
  );
}

function Toggle({ name, children }: { name: "keepOuts" | "drivers" | "scan"; children: ReactNode }) {
  const on = useBayOf((state: BayState) => state[name]);
  return (
    <button type="button" aria-pressed={on} onClick={() => bayStore.set({ [name]: !on })}>
      {children}
    </button>
  );
}

/** A place on the axis of the cut, to be read off: on which side of nought, and what the program says of it. */
function usePlace(at: number | null): string {
  const units = usePage((state) => state.units);
  const [told, setTold] = useState("");
  useEffect(() => {
    if (at !== null) {
      placeOf([at, 0, 0]).then((text) => setTold(`${at < -0.0005 ? "\u2212" : at > 0.0005 ? "+" : ""}${text}`), () => undefined);
    }
  }, [at, units]);
  return told;
}

function Section({ bay }: { bay: Bay }) {
  const cut = useBayOf((state) => state.cut);
  const at = useBayOf((state) => state.cutAt);
  const fine = useBayOf((state) => state.fine);
  const place = usePlace(cut === null ? null : at);
  return (
    <span className="bay-ask">
      <label>
        section{" "}
        <select value={cut ?? ""} onChange={(event) => setCut(bay, event.target.value === "" ? null : (event.target.value as Cut))}>
          <option value="">none</option>
          {CUTS.map((one) => (
            <option key={one} value={one}>
              {one}
            </option>
          ))}
        </select>
      </label>
      {cut !== null && (
        <span className="words stepped" role="group" aria-label="Where the section stands">
          <button type="button" aria-label="− one step" onClick={(event) => stepCut(bay, -1, event.shiftKey)}>
            −
          </button>
          <output>{place}</output>
          <button type="button" aria-label="+ one step" onClick={(event) => stepCut(bay, 1, event.shiftKey)}>
            +
          </button>
          <button type="button" aria-pressed={fine} onClick={() => bayStore.set({ fine: !fine })}>
            by 1 mm
          </button>
        </span>
      )}
    </span>
  );
}

const ENGINE: [Engine, string][] = [
  ["rest", "at rest"],
  ["up", "up"],
  ["down", "down"],
];

function EngineWords() {
  const engine = useBayOf((state) => state.engine);
  return (
    <span className="words" role="group" aria-label="Engine on its mounts">
      <span className="bay-word-head">engine</span>
      {ENGINE.map(([key, word]) => (
        <button type="button" key={key} aria-pressed={key === engine} onClick={() => setEngine(key)}>
          {word}
        </button>
      ))}
    </span>
  );
}

function Hands({ bay }: { bay: Bay }) {
  const chosen = usePage((state) => state.chosen);
  const acts: [string, () => void][] = [
    ["turn left", () => turnBy(-DEGREES_15, 0)],
    ["turn right", () => turnBy(DEGREES_15, 0)],
    ["tip up", () => turnBy(0, -DEGREES_15)],
    ["tip down", () => turnBy(0, DEGREES_15)],
    ["shift left", () => shiftShare(-1, 0)],
    ["shift right", () => shiftShare(1, 0)],
    ["shift up", () => shiftShare(0, -1)],
    ["shift down", () => shiftShare(0, 1)],
    ["nearer", near],
    ["farther", away],
    ["whole", () => whole(bay, chosen)],
  ];
  return (
    <div className="bay-bar words" role="group" aria-label="Move the picture">
      {acts.map(([word, act]) => (
        <button type="button" key={word} onClick={act}>
          {word}
        </button>
      ))}
    </div>
  );
}

function Measure({ bay }: { bay: Bay }) {
  const ends = useBayOf((state) => state.ends);
  const measured = useBayOf((state) => state.measured);
  const fault = useBayOf((state) => state.fault);
  // Marks are where the engine rests, and only places the program knows: a run is no place.
  const rest = useBayOf((state) => state.engine) === "rest";
  const keys = rest ? bay.clips.filter((clip) => clip.nth === 1).map((clip) => clip.joint) : [];
  const choose = (at: 0 | 1, key: string) => {
    const end = endOf(bay, key);
    if (end) {
      putEnd(at, { key, ...end });
    }
  };
  return (
    <div className="bay-bar measure-bar">
      {([0, 1] as const).map((at) => (
        <label className="bay-ask" key={at}>
          {at === 0 ? "from" : "to"}{" "}
          <select value={ends[at] === undefined ? "" : (ends[at].key ?? "point")} onChange={(event) => choose(at, event.target.value)}>
            <option value="" disabled>
              …
            </option>
            <option value="point" disabled>
              a point
            </option>
            {keys.map((key) => (
              <option key={key} value={key}>
                {endOf(bay, key)?.name}
              </option>
            ))}
          </select>
        </label>
      ))}
      <span className="bay-said" role="status">
        {fault !== null ? (
          <span className="fault">{fault}</span>
        ) : measured !== null ? (
          <>
            <b>{measured.text}</b> {measured.deviation}
          </>
        ) : ends.length === 2 ? (
          "being measured"
        ) : ends.length === 1 ? (
          `From ${ends[0]?.name ?? ""}: pick the other mark or point.`
        ) : (
          "Pick two marks or points in the picture."
        )}
      </span>
    </div>
  );
}

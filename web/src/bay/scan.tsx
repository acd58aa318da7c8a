/** A scan of the bay: dropped or chosen, looked at, laid on points that are known in both, kept. */
import { useEffect, useState } from "react";
import { missed, wordsOf } from "../chapters/parts";
import { refresh, say, usePage, useShut } from "../state";
import { calls } from "./calls";
import type { Bay, LayAsk, Laid, P3, ScanLook } from "./form";
import { pairsOf, readLength, readP3, UNITS, unitsOf, wants, type Known } from "./pairs";
import { Preview } from "./preview";
import { bayStore, useBayOf } from "./store";

const TAKEN = ".glb,.obj,.ply,.stl";

export function Scan({ bay }: { bay: Bay | null }) {
  const [look, setLook] = useState<ScanLook | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const [over, setOver] = useState(false);
  const dropped = useBayOf((state) => state.dropped);
  const shut = useShut();
  const send = (file: File) => {
    setBusy(true);
    setFault(null);
    calls
      .look(file)
      .then(
        (answer) => {
          setLook(answer);
          say(answer.says.join(" "));
        },
        (why: unknown) => {
          setFault(wordsOf(why));
          missed(why);
        },
      )
      .finally(() => setBusy(false));
  };
  useEffect(() => {
    if (dropped) {
      bayStore.set({ dropped: null });
      send(dropped);
    }
  }, [dropped]);
  return (
    <section aria-labelledby="bay-scan" className="bay-scan">
      <h2 id="bay-scan">Scan</h2>
      {bay?.scan && (
        <p>
          {bay.scan.laid} <span className="soft">{bay.scan.error}</span>
        </p>
      )}
      <label
        className={`drop bay-drop${over ? " drop-over" : ""}`}
        onDragOver={(event) => {
          event.preventDefault();
          setOver(true);
        }}
        onDragLeave={() => setOver(false)}
        onDrop={(event) => {
          event.preventDefault();
          event.stopPropagation();
          setOver(false);
          const file = event.dataTransfer.files[0];
          if (file && !shut) {
            send(file);
          }
        }}
      >
        <span>Drop a scan here. Is a tape in it?</span>{" "}
        <input
          type="file"
          accept={TAKEN}
          disabled={shut || busy}
          onChange={(event) => {
            const file = event.target.files?.[0];
            if (file) {
              send(file);
            }
          }}
        />
        <span className="soft"> {busy ? "being read" : "GLB, OBJ, PLY or STL"}</span>
      </label>
      {fault !== null && (
        <p className="fault" role="alert">
          {fault}
        </p>
      )}
      {look && <Lay key={look.name} look={look} bay={bay} shut={shut} done={() => setLook(null)} />}
    </section>
  );
}

/** What the next press on the preview is for. */
type For = { of: "a" } | { of: "b" } | { of: "pair"; at: number } | null;

function Lay({ look, bay, shut, done }: { look: ScanLook; bay: Bay | null; shut: boolean; done: () => void }) {
  const units = usePage((state) => state.units);
  const [unit, setUnit] = useState<number | null>(unitsOf(look.units));
  const [a, setA] = useState("");
  const [b, setB] = useState("");
  const [long, setLong] = useState("");
  const [behind, setBehind] = useState<"solid" | "free">("solid");
  const [texts, setTexts] = useState<Record<string, string>>({});
  const [own, setOwn] = useState<{ name: string; at: string }[]>([]);
  const [next, setNext] = useState<For>(null);
  const [laid, setLaid] = useState<Laid | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);

  const places: Known[] = [
    ...(bay?.clips ?? []).map((clip) => ({ name: clip.mark, at: clip.at })),
    ...own.flatMap(({ name, at }) => {
      const mm = readP3(at);
      return mm && name.trim() !== "" ? [{ name: name.trim(), at: mm.map((value) => value / 1000) as P3 }] : [];
    }),
  ].map((one) => ({ ...one, scan: readP3(texts[one.name] ?? "") }));
  const pairs = pairsOf(places);
  const known = unit === null ? { a: readP3(a), b: readP3(b), long: readLength(long, units) } : null;
  const wanting = wants(pairs, unit, known);
  const titles = new Map((bay?.clips ?? []).map((clip) => [clip.mark, clip.title]));

  const put = (at: P3) => {
    const text = at.map((value) => Number(value.toPrecision(6))).join(", ");
    if (next === null) {
      return;
    }
    if (next.of === "a") {
      setA(text);
      setNext({ of: "b" });
    } else if (next.of === "b") {
      setB(text);
      setNext(null);
    } else {
      const name = places[next.at]?.name;
      if (name !== undefined) {
        setTexts((had) => ({ ...had, [name]: text }));
      }
      setNext(null);
    }
    setLaid(null);
  };
  const lay = (keep: boolean) => {
    const length = known?.a && known.b && known.long !== null ? { a: known.a, b: known.b, length: known.long } : null;
    const asked: LayAsk = { name: look.name, metres_per_unit: unit, known: length, pairs, behind, keep };
    setBusy(true);
    setFault(null);
    calls
      .lay(asked)
      .then(
        (answer) => {
          setLaid(answer);
          if (answer.kept) {
            say("The scan is kept.");
            void refresh();
            done();
          }
        },
        (why: unknown) => {
          setFault(wordsOf(why));
          missed(why);
        },
      )
      .finally(() => setBusy(false));
  };
  const spots = [
    ...places.flatMap(({ name, scan }) => (scan ? [{ name, at: scan }] : [])),
    ...(unit === null ? [["from", a] as const, ["to", b] as const] : []).flatMap(([name, text]) => {
      const at = readP3(text);
      return at ? [{ name, at }] : [];
    }),
  ];
  const pressed = (of: For) => JSON.stringify(of) === JSON.stringify(next);
  const Show = ({ of, name }: { of: NonNullable<For>; name: string }) => (
    <button type="button" className="line-key" aria-pressed={pressed(of)} aria-label={`show it in the scan: ${name}`} onClick={() => setNext(pressed(of) ? null : of)}>
      show it in the scan
    </button>
  );
  return (
    <div className="scan-lay">
      <h3>{look.name}</h3>
      <ul>
        {look.says.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      <Preview points={look.preview} spots={spots} onPick={put} />
      <p className="scan-next" role="status">
        {next === null ? "" : `Press the point in the scan: ${next.of === "pair" ? (places[next.at]?.name ?? "") : next.of === "a" ? "one end of the length" : "its other end"}.`}
      </p>
      <fieldset className="choices">
        <legend>One unit of it is a</legend>
        {[...UNITS, ["don’t know", null] as const].map(([name, metres]) => (
          <label key={name} className={metres === unit ? "chosen" : ""}>
            <input
              type="radio"
              name="scan-unit"
              checked={metres === unit}
              onChange={() => {
                setUnit(metres);
                setLaid(null);
              }}
            />
            {name}
          </label>
        ))}
      </fieldset>
      {unit === null && (
        <fieldset className="scan-known">
          <legend>One length that you know: the tape in it</legend>
          <label>
            from <input className="written" value={a} onChange={(event) => setA(event.target.value)} />
          </label>
          <Show of={{ of: "a" }} name="one end of the length" />
          <label>
            to <input className="written" value={b} onChange={(event) => setB(event.target.value)} />
          </label>
          <Show of={{ of: "b" }} name="the other end" />
          <label>
            it is <input className="written short" value={long} onChange={(event) => setLong(event.target.value)} aria-describedby="scan-long" />
          </label>
          <span id="scan-long" className="soft">
            {units === "imperial" ? "inches" : "mm"}, or write the unit
          </span>
        </fieldset>
      )}
      <h3>Show the same points in both: {pairs.length} of 3</h3>
      <div className="wide" tabIndex={0} role="region" aria-label="Points in both">
        <table className="bay-table scan-pairs">
          <thead>
            <tr>
              <th scope="col">point</th>
              <th scope="col">in the scan: x, y, z</th>
              <th scope="col">off by</th>
            </tr>
          </thead>
          <tbody>
            {places.map((one, at) => (
              <tr key={one.name}>
                <th scope="row">
                  <b>{one.name}</b> <span className="soft">{titles.get(one.name)}</span>
                </th>
                <td>
                  <input
                    className="written"
                    aria-label={`${one.name} in the scan: x, y, z`}
                    aria-invalid={(texts[one.name] ?? "") !== "" && one.scan === null}
                    value={texts[one.name] ?? ""}
                    onChange={(event) => {
                      setTexts({ ...texts, [one.name]: event.target.value });
                      setLaid(null);
                    }}
                  />{" "}
                  <Show of={{ of: "pair", at }} name={one.name} />
                </td>
                <td>{laid?.residuals.find((residual) => residual.name === one.name)?.text ?? ""}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {own.map((one, at) => (
        <p key={at} className="scan-own">
          <label>
            a pin or point, its name <input className="written short" value={one.name} onChange={(event) => setOwn(own.map((other, i) => (i === at ? { ...other, name: event.target.value } : other)))} />
          </label>{" "}
          <label>
            in the boat x, y, z in mm <input className="written" value={one.at} aria-invalid={one.at !== "" && readP3(one.at) === null} onChange={(event) => setOwn(own.map((other, i) => (i === at ? { ...other, at: event.target.value } : other)))} />
          </label>
        </p>
      ))}
      <p className="keys">
        <button type="button" onClick={() => setOwn([...own, { name: "", at: "" }])}>
          Another point
        </button>
      </p>
      <fieldset className="choices">
        <legend>Behind its faces it is</legend>
        {(["solid", "free"] as const).map((word) => (
          <label key={word} className={word === behind ? "chosen" : ""}>
            <input type="radio" name="scan-behind" checked={word === behind} onChange={() => setBehind(word)} />
            {word}
          </label>
        ))}
      </fieldset>
      {laid && (
        <p role="status">
          {laid.fault !== null ? <span className="fault">{laid.fault}</span> : laid.rms}
        </p>
      )}
      {fault !== null && (
        <p className="fault" role="alert">
          {fault}
        </p>
      )}
      {wanting !== null && <p className="soft">{wanting}</p>}
      <p className="keys">
        <button type="button" disabled={wanting !== null || busy || shut} onClick={() => lay(false)}>
          Lay it on these points
        </button>
        <button type="button" disabled={wanting !== null || busy || shut || laid === null || laid.fault !== null} onClick={() => lay(true)}>
          Keep the scan
        </button>
        <button type="button" onClick={done}>
          Leave it
        </button>
      </p>
    </div>
  );
}

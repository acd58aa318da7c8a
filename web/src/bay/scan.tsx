/** A scan of the bay: dropped or chosen, looked at, laid on points that are known in both, kept. */
import { useEffect, useState } from "react";
import { missed, wordsOf } from "../chapters/parts";
import { refresh, say, usePage, useShut } from "../state";
import { calls } from "./calls";
import type { Bay, LayAsk, Laid, P3, ScanLook } from "./form";
import { bars, pairsOf, readLength, readP3, UNITS, wants, type Row } from "./pairs";
import { Preview } from "./preview";
import { bayStore, useBayOf } from "./store";

const TAKEN = ".glb,.obj,.ply,.stl";

/** Of which arrangement one asks, in which units. */
function useOf() {
  const arrangement = usePage((state) => state.arrangement);
  const units = usePage((state) => state.units);
  return { arrangement, units };
}

export function Scan({ bay }: { bay: Bay | null }) {
  const [look, setLook] = useState<ScanLook | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const [over, setOver] = useState(false);
  const dropped = useBayOf((state) => state.dropped);
  const shut = useShut();
  const of = useOf();
  const send = (file: File | undefined) => {
    const why = file ? bars(file.size, shut, busy) : null;
    setFault(why);
    if (!file || why !== null) {
      return;
    }
    setBusy(true);
    calls
      .look(file, of)
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
          send(event.dataTransfer.files[0]);
        }}
      >
        <span>Drop a scan here. Is a tape in it?</span>{" "}
        <input
          type="file"
          accept={TAKEN}
          disabled={shut || busy}
          onChange={(event) => {
            send(event.target.files?.[0]);
            // So that the same file can be chosen again.
            event.target.value = "";
          }}
        />
        <span className="soft"> {busy ? "being read" : "GLB, OBJ, PLY or STL"}</span>
      </label>
      {fault !== null && (
        <p className="fault" role="alert">
          {fault}
        </p>
      )}
      {look && <Lay key={look.id} look={look} shut={shut} done={() => setLook(null)} />}
    </section>
  );
}

/** What the next press on the preview is for. */
type For = { of: "a" } | { of: "b" } | { of: "pair"; at: number } | null;

/** So many of the known places stand in the table at first: pins come first among them. */
const FIRST = 4;
const POINT = " ";

function Lay({ look, shut, done }: { look: ScanLook; shut: boolean; done: () => void }) {
  const of = useOf();
  const { units } = of;
  const known = (name: string): Row => ({ name, at: null, scan: "" });
  const [unit, setUnit] = useState<number | null>(look.metres_per_unit);
  const [a, setA] = useState("");
  const [b, setB] = useState("");
  const [long, setLong] = useState("");
  const [behind, setBehind] = useState<"solid" | "free">("solid");
  const [rows, setRows] = useState<Row[]>(() => look.spots.slice(0, FIRST).map((spot) => known(spot.name)));
  const [next, setNext] = useState<For>(null);
  const [pressed, setPressed] = useState("");
  const [laid, setLaid] = useState<Laid | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  // What was laid holds for what was asked then.
  useEffect(() => setLaid(null), [unit, a, b, long, behind, rows]);

  const change = (at: number, by: Partial<Row>) => setRows((had) => had.map((row, i) => (i === at ? { ...row, ...by } : row)));
  const pairs = pairsOf(rows, units);
  const length = unit === null ? { a: readP3(a), b: readP3(b), long: readLength(long, units) } : null;
  const wanting = wants(pairs, unit, length);
  const spotOf = (name: string) => look.spots.find((spot) => spot.name === name);
  const rest = look.spots.filter((spot) => rows.every((row) => row.at !== null || row.name !== spot.name));
  const stop = (why: unknown) => {
    setFault(wordsOf(why));
    missed(why);
  };

  const put = (at: P3) => {
    const text = at.map((value) => Number(value.toPrecision(9))).join(", ");
    if (next?.of === "a") {
      setA(text);
      setNext({ of: "b" });
    } else if (next?.of === "b") {
      setB(text);
      setNext(null);
    } else if (next) {
      change(next.at, { scan: text });
      setNext(null);
    }
  };
  const lay = (keep: boolean) => {
    const ends = length?.a && length.b && length.long !== null ? { a: length.a, b: length.b, length: length.long } : null;
    const asked: LayAsk = { id: look.id, metres_per_unit: unit, known: ends, pairs, behind, keep };
    setBusy(true);
    setFault(null);
    calls
      .lay(asked, of)
      .then(
        (answer) => {
          setLaid(answer);
          if (answer.kept) {
            say("The scan is kept.");
            void refresh();
            done();
          }
        },
        stop,
      )
      .finally(() => setBusy(false));
  };
  const spots = [...rows.map((row) => [row.name, row.scan] as const), ...(unit === null ? [["from", a] as const, ["to", b] as const] : [])].flatMap(([name, text]) => {
    const at = readP3(text);
    return at ? [{ name, at }] : [];
  });
  const isNext = (of: For) => JSON.stringify(of) === JSON.stringify(next);
  const show = (of: NonNullable<For>, name: string) => (
    <button
      type="button"
      className="line-key"
      aria-pressed={isNext(of)}
      aria-label={`show it in the scan: ${name}`}
      onClick={() => {
        setPressed("");
        setNext(isNext(of) ? null : of);
      }}
    >
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
      <Preview
        points={look.preview}
        long={Math.max(...look.size) || 1}
        spots={spots}
        onPick={(ray) => {
          if (next === null) {
            setPressed("Say first which point it is: “show it in the scan” beside it.");
            return;
          }
          calls.press({ id: look.id, ...ray }).then(({ at, says }) => {
            setPressed(says);
            if (at) {
              put(at);
            }
          }, stop);
        }}
      />
      <p className="scan-next" role="status">
        {pressed} {next === null ? "" : `Press the point in the scan: ${next.of === "pair" ? (rows[next.at]?.name ?? "") : next.of === "a" ? "one end of the length" : "its other end"}.`}
      </p>
      <fieldset className="choices">
        <legend>One unit of it is a</legend>
        {[...UNITS, ["don’t know", null] as const].map(([name, metres]) => (
          <label key={name} className={metres === unit ? "chosen" : ""}>
            <input
              type="radio"
              name="scan-unit"
              checked={metres === unit}
              onChange={() => setUnit(metres)}
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
          {show({ of: "a" }, "one end of the length")}
          <label>
            to <input className="written" value={b} onChange={(event) => setB(event.target.value)} />
          </label>
          {show({ of: "b" }, "the other end")}
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
            {rows.map((row, at) => (
              <tr key={at}>
                <th scope="row">
                  {row.at === null ? (
                    <>
                      <b>{row.name}</b>{" "}
                      <span className="soft">
                        {spotOf(row.name)?.title} · {spotOf(row.name)?.text}
                      </span>
                    </>
                  ) : (
                    <>
                      <input className="written short" aria-label="its name" value={row.name} onChange={(event) => change(at, { name: event.target.value })} />{" "}
                      <input
                        className="written"
                        aria-label={`${row.name} in the boat: x, y, z in ${units === "imperial" ? "inches" : "mm"}`}
                        placeholder={`x, y, z in ${units === "imperial" ? "inches" : "mm"}`}
                        value={row.at}
                        aria-invalid={row.at !== "" && readP3(row.at) === null}
                        onChange={(event) => change(at, { at: event.target.value })}
                      />
                    </>
                  )}
                </th>
                <td>
                  <input
                    className="written"
                    aria-label={`${row.name} in the scan: x, y, z`}
                    aria-invalid={row.scan !== "" && readP3(row.scan) === null}
                    value={row.scan}
                    onChange={(event) => change(at, { scan: event.target.value })}
                  />{" "}
                  {show({ of: "pair", at }, row.name)}
                </td>
                <td>{laid?.residuals.find((residual) => residual.name === row.name.trim())?.text}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p>
        <label>
          Another point{" "}
          <select value="" onChange={(event) => setRows([...rows, event.target.value === POINT ? { name: `point ${rows.length + 1}`, at: "", scan: "" } : known(event.target.value)])}>
            <option value="">choose</option>
            {rest.map((spot) => (
              <option key={spot.name} value={spot.name}>
                {spot.name}
              </option>
            ))}
            <option value={POINT}>one in numbers</option>
          </select>
        </label>
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
      <div role="status">
        {laid?.says.map((line) => (
          <p key={line}>{line}</p>
        ))}
        {laid?.fault != null && <p className="fault">{laid.fault}</p>}
      </div>
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
        <button
          type="button"
          onClick={() => {
            calls.leave(look.id).catch(missed);
            done();
          }}
        >
          Leave it
        </button>
      </p>
    </div>
  );
}

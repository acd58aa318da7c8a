/** Survey at the desk: what to measure next, two readings to settle, and every station with its boxes. */
import { useEffect, useState, type DragEvent } from "react";

import { api } from "../api";
import type { Outcome, Page, Survey as Answer, SurveyBox, SurveyNext } from "../sent";
import { Ruled } from "../card/ruled";
import { Shape } from "../card/grade";
import { sharedPlaces } from "../phone/ends";
import { boatName, readFile } from "../phone/queue";
import { page as sheet, pick, say, settlePair, useShut, refresh } from "../state";
import { Body, Coming, useAsked, wordsOf } from "./parts";

/** Two readings of one value: the owner says which stands. */
function Pairs({ pairs }: { pairs: Answer["pairs"] }) {
  const [fault, setFault] = useState<string | null>(null);
  const shut = useShut();
  if (pairs.length === 0) {
    return null;
  }
  return (
    <section aria-labelledby="pairs">
      <h2 id="pairs">Two readings. Which one stands?</h2>
      {fault !== null && (
        <p className="fault" role="alert">
          {fault}
        </p>
      )}
      <ul className="two-readings">
        {pairs.map((pair) => (
          <li key={pair.place}>
            <span>{pair.place}</span>
            {pair.readings.map((reading, at) => (
              <button
                key={`${at} ${reading}`}
                type="button"
                aria-disabled={shut}
                onClick={() => {
                  if (shut) {
                    return;
                  }
                  settlePair(pair.place, reading).then(
                    () => {
                      setFault(null);
                      say(`${reading} stands`);
                    },
                    (why: unknown) => setFault(wordsOf(why)),
                  );
                }}
              >
                {reading}
              </button>
            ))}
          </li>
        ))}
      </ul>
    </section>
  );
}

/** What can be measured: a place that a station has a box for, with a picture of where to put the caliper. */
export function firstBox(next: SurveyNext[], stations: Answer["stations"]): string | null {
  const measured = new Set(
    stations.flatMap((station) =>
      station.ends.flatMap((end) => end.boxes.filter((box) => box.picture !== "other").map((box) => box.place)),
    ),
  );
  return (next.find((one) => measured.has(one.place.path)) ?? next[0])?.place.path ?? null;
}

function Next({ next, stations }: { next: SurveyNext[]; stations: Answer["stations"] }) {
  const [all, setAll] = useState(false);
  const shut = useShut();
  // A boat that was just begun: her first box is open, and waits for the pencil.
  const [begins] = useState(() => (sheet.get().firstBox ? firstBox(next, stations) : null));
  useEffect(() => sheet.set({ firstBox: false }), []);
  const shared = sharedPlaces({ stations });
  const held = new Map(
    stations.flatMap((station) => station.ends.flatMap((end) => end.boxes.map((box) => [box.place, box.text] as const))),
  );
  const at = next.findIndex((one) => one.place.path === begins);
  const shown = all || at >= 5 ? next : next.slice(0, 5);
  if (next.length === 0) {
    return null;
  }
  return (
    <section aria-labelledby="settle-next">
      <h2 id="settle-next">Settle next</h2>
      <ol className="settle-next">
        {shown.map((one) => (
          <li key={`${one.place.path} ${one.part}`}>
            {one.mark !== null ? (
              <button type="button" className="mark-key" onClick={() => pick(one.mark)}>
                {one.mark}
              </button>
            ) : (
              <span className="mark-key" />
            )}
            <div>
              <p>
                <b>{[one.station.title, one.part].filter((word) => word !== "").join(", ")}</b>{" "}
                <span className="soft">
                  settles {one.settles}
                  {one.tried ? "" : " that name it"}
                </span>
              </p>
              {one.how.map((how) => (
                <p key={how}>{how}</p>
              ))}
              {!shut && !shared.has(one.place.path) && (
                <Ruled
                  place={one.place.path}
                  name={[one.station.title, one.part].filter((word) => word !== "").join(", ")}
                  text={held.get(one.place.path) ?? null}
                  opened={one.place.path === begins}
                />
              )}
            </div>
          </li>
        ))}
      </ol>
      {next.length > 5 && (
        <button type="button" aria-expanded={all} onClick={() => setAll(!all)}>
          {all ? "Fold the rest" : `${next.length - 5} more`}
        </button>
      )}
    </section>
  );
}

function Box({ box, shared }: { box: SurveyBox; shared: boolean }) {
  return (
    <tr>
      <th scope="row">
        {box.says}
        <span className="soft"> {box.name}</span>
      </th>
      <td>
        {shared ? (
          // A part of a line: one value put at its place would write over the whole of it.
          <span className="soft">in its line of {box.place}, in the boat file</span>
        ) : (
          <Ruled
            place={box.place}
            name={box.says}
            text={box.text}
            from={box.text === null ? "" : (box.instrument ?? "")}
          />
        )}
      </td>
      <td className="soft">
        {box.holds === "two-readings" ? "two readings" : box.holds === "unknown" ? "looked, can’t know yet" : ""}
      </td>
    </tr>
  );
}

/** How many boxes of a station are open. */
const openIn = (station: Answer["stations"][number]): number =>
  station.ends.reduce((sum, end) => sum + end.boxes.filter((box) => box.holds !== "value").length, 0);

function Stations({ stations }: { stations: Answer["stations"] }) {
  const shared = sharedPlaces({ stations });
  return (
    <section aria-labelledby="stations">
      <h2 id="stations">Stations</h2>
      {stations.map((station) => {
        const open = openIn(station);
        return (
          <details key={station.path} className="station" open={open > 0 && stations.length < 4}>
            <summary>
              <b>{station.title}</b>{" "}
              {open > 0 ? (
                <span>
                  <Shape grade="unmeasured" mark /> {open === 1 ? "1 box" : `${open} boxes`}
                </span>
              ) : (
                <span className="soft">filled</span>
              )}
            </summary>
            {station.ends.map((end) => (
              <table key={`${end.mark ?? ""} ${end.part}`} className="boxes">
                <caption>
                  {end.mark !== null && (
                    <button type="button" className="mark-key" onClick={() => pick(end.mark)}>
                      {end.mark}
                    </button>
                  )}{" "}
                  {end.part === "" ? station.title : end.part}
                </caption>
                <tbody>
                  {end.boxes.map((box) => (
                    <Box key={`${box.place} ${box.name}`} box={box} shared={shared.has(box.place)} />
                  ))}
                </tbody>
              </table>
            ))}
          </details>
        );
      })}
    </section>
  );
}

/** The file that a phone wrote because the link was gone. */
function Entries({ page }: { page: Page }) {
  const [told, setTold] = useState<string[] | null>(null);
  const [over, setOver] = useState(false);
  const read = async (file: File | undefined) => {
    if (file === undefined) {
      return;
    }
    const got = readFile(await file.text());
    if (typeof got === "string") {
      setTold([got]);
      return;
    }
    const other = got.boats.filter((boat) => boat !== boatName(page.boat));
    if (other.length > 0) {
      setTold([`These entries are for ${other.join(" and ")}. Open that boat to take them in.`]);
      return;
    }
    try {
      const outcomes: Outcome[] = [];
      // As many at once as the program takes without a murmur.
      for (let at = 0; at < got.entries.length; at += 100) {
        outcomes.push(...(await api.entries(got.entries.slice(at, at + 100))).outcomes);
      }
      const refused = outcomes.filter((outcome) => !outcome.kept);
      const kept = outcomes.length - refused.length;
      setTold([
        kept === 1 ? "1 entry is in the boat file." : `${kept} entries are in the boat file.`,
        ...outcomes
          .filter((outcome) => outcome.why !== null || !outcome.kept)
          .map((outcome) => {
            const entry = got.entries.find((own) => own.id === outcome.id);
            const what = `${entry?.text ?? ""} for ${entry?.place ?? outcome.id}`;
            return `${outcome.kept ? "" : "Not taken: "}${what}: ${outcome.why ?? "no reason was given"}`;
          }),
      ]);
      await refresh();
    } catch (why) {
      setTold([wordsOf(why)]);
    }
  };
  const drop = (event: DragEvent) => {
    event.preventDefault();
    setOver(false);
    void read(event.dataTransfer.files[0]);
  };
  return (
    <section
      aria-labelledby="entries"
      className={`drop${over ? " drop-over" : ""}`}
      onDragOver={(event) => {
        event.preventDefault();
        setOver(true);
      }}
      onDragLeave={() => setOver(false)}
      onDrop={drop}
    >
      <h2 id="entries">Entries of a phone</h2>
      <label className="ask">
        <span>Drop the file here that the phone wrote, or choose it.</span>
        <input
          type="file"
          accept="application/json,.json"
          onChange={(event) => {
            void read(event.target.files?.[0]);
            event.target.value = "";
          }}
        />
      </label>
      <div role="status">{told?.map((line) => <p key={line}>{line}</p>)}</div>
    </section>
  );
}

export function Survey({ page }: { page: Page }) {
  const { answer, fault } = useAsked(api.survey, page.arrangement, page.number);
  return (
    <Body page={page} chapter="survey">
      {answer === null ? (
        <Coming what="Survey" fault={fault} />
      ) : (
        <>
          <p>
            {answer.values} values stand, {answer.empty === 1 ? "1 box is" : `${answer.empty} boxes are`} open.
          </p>
          <Pairs pairs={answer.pairs} />
          <Next next={answer.next} stations={answer.stations} />
          <Stations stations={answer.stations} />
          <Entries page={page} />
        </>
      )}
    </Body>
  );
}

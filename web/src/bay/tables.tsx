/** Under the picture: what is known of every run and clip, and what can't be laid yet. */
import { GradeWord } from "../card/grade";
import { markOf, open, page, pick, usePage, verdictOf } from "../state";
import { pickAny } from "../strip/strip";
import type { Bay, BayRun } from "./form";
import { gradeOf } from "./form";

/** Chooses a run or joint everywhere, and opens its card: the worst verdict of its place, else of its lie. */
function choose(key: string, mark: string, verdicts: readonly string[]): void {
  if (markOf(page.get().page, mark)) {
    pick(mark);
  } else {
    pickAny(key);
  }
  const own = verdicts.find((id) => verdictOf(page.get().page, id));
  if (own !== undefined && page.get().verdict === null) {
    open(own);
  }
}

function MarkKey({ id, mark, verdicts }: { id: string; mark: string; verdicts: readonly string[] }) {
  const chosen = usePage((state) => state.chosen === mark);
  return (
    <button
      type="button"
      className="mark-key"
      aria-pressed={chosen}
      data-bay={id}
      onClick={() => {
        choose(id, mark, verdicts);
      }}
    >
      {mark}
    </button>
  );
}
function Graded({ grade }: { grade: string }) {
  const own = gradeOf(grade);
  return own ? <GradeWord grade={own} /> : <span className="soft">not judged</span>;
}

function cuts(run: BayRun): string {
  const own = run.parts.filter((part) => part.cut !== null).map((part) => part.cut ?? "");
  return own.join(" · ");
}

export function Runs({ bay }: { bay: Bay }) {
  const chosen = usePage((state) => state.chosen);
  if (bay.runs.length === 0) {
    return null;
  }
  const own = bay.runs.find((run) => run.mark === chosen);
  return (
    <section aria-labelledby="bay-runs">
      <h2 id="bay-runs">Runs as they lie</h2>
      <div className="wide" tabIndex={0} role="region" aria-label="Table of runs">
        <table className="bay-table bay-cards">
          <thead>
            <tr>
              <th scope="col">mark</th>
              <th scope="col">grade</th>
              <th scope="col">what</th>
              <th scope="col">cut</th>
              <th scope="col">least bend</th>
              <th scope="col">tightest gap</th>
            </tr>
          </thead>
          <tbody>
            {bay.runs.map((run) => (
              <tr key={run.run} aria-current={run.mark === chosen ? "true" : undefined} className={run.grade === "unsound" ? "is-unsound" : ""}>
                <th scope="row">
                  <MarkKey id={run.run} mark={run.mark} verdicts={run.verdicts} />
                </th>
                <td>
                  <Graded grade={run.grade} />
                </td>
                <td>{run.title}</td>
                <td data-of="cut">{cuts(run) || "–"}</td>
                <td data-of={run.bend ? undefined : "least bend"}>{run.bend?.text ?? "–"}</td>
                <td data-of="gap">
                  {run.gap?.text ?? "–"}
                  {run.gap && <span className="soft"> {run.gap.with}</span>}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {own && own.facts.length > 0 && (
        <dl className="pairs bay-facts" aria-label={`${own.mark}: more of it`}>
          {own.facts.map((fact) => (
            <div key={fact.name}>
              <dt>{fact.name}</dt>
              <dd>{fact.text}</dd>
            </div>
          ))}
        </dl>
      )}
    </section>
  );
}

export function Clips({ bay }: { bay: Bay }) {
  const chosen = usePage((state) => state.chosen);
  if (bay.clips.length === 0) {
    return null;
  }
  return (
    <section aria-labelledby="bay-clips">
      <h2 id="bay-clips">Clips and who reaches them</h2>
      <div className="wide" tabIndex={0} role="region" aria-label="Table of clips">
        <table className="bay-table bay-cards">
          <thead>
            <tr>
              <th scope="col">mark</th>
              <th scope="col">grade</th>
              <th scope="col">clock</th>
              <th scope="col">tool</th>
              <th scope="col">free</th>
            </tr>
          </thead>
          <tbody>
            {bay.clips.map((clip) => (
              <tr key={`${clip.joint} ${clip.nth}`} aria-current={clip.mark === chosen ? "true" : undefined} className={clip.grade === "unsound" ? "is-unsound" : ""}>
                <th scope="row">
                  <MarkKey id={clip.joint} mark={clip.mark} verdicts={clip.verdicts} />
                  {clip.of > 1 && <span className="soft"> {`${clip.nth} of ${clip.of}`}</span>}
                </th>
                <td>
                  <Graded grade={clip.grade} />
                </td>
                <td data-of="screw at">
                  {clip.clock ?? "–"}
                  <span className="soft"> {clip.text}</span>
                </td>
                <td data-of="tool">{clip.tool ?? "–"}</td>
                <td data-of="free">{clip.free_text ?? "–"}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p className="soft">Hours as one looks at the spigot from the hose; 12 is up, for an upright spigot the bow. Of several clips at one end the first is at the hose’s end.</p>
    </section>
  );
}

/** Runs that can't be laid, each with what settles it. */
export function Missing({ bay }: { bay: Bay }) {
  if (bay.missing.length === 0) {
    return null;
  }
  return (
    <section aria-labelledby="bay-missing">
      <h2 id="bay-missing">Not laid yet</h2>
      <ul className="verdict-lines">
        {bay.missing.map((one) => (
          <li key={one.run}>
            <MarkKey id={one.run} mark={one.mark} verdicts={[]} /> <GradeWord grade="unmeasured" /> {one.why} {one.settles}
          </li>
        ))}
      </ul>
    </section>
  );
}

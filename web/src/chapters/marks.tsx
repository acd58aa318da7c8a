/** Circuit and Fit: the loop is the list. Everything on it in order of flow, each with its grade. */
import type { Mark, Page } from "../sent";
import { GradeWord } from "../card/grade";
import { open, pick, usePage, useText } from "../state";
import { Body } from "./parts";

function Row({ page, mark }: { page: Page; mark: Mark }) {
  const text = useText();
  const chosen = usePage((state) => state.chosen === mark.mark);
  const verdict = page.verdicts.find((one) => one.id === mark.verdict);
  return (
    <tr className={mark.grade === "unsound" ? "is-unsound" : ""} aria-current={chosen ? "true" : undefined}>
      <th scope="row">
        <button type="button" className="mark-key" aria-pressed={chosen} onClick={() => pick(mark.mark)}>
          {mark.mark}
        </button>
      </th>
      <td>{mark.title}</td>
      <td>{mark.grade === null ? <span className="soft">not judged</span> : <GradeWord grade={mark.grade} />}</td>
      <td>{verdict !== undefined && verdict.grade !== "sound" ? text(verdict.because) : ""}</td>
    </tr>
  );
}

function Table({ page, marks, name }: { page: Page; marks: Mark[]; name: string }) {
  return (
    <table className="marks">
      <caption className="unseen">{name}</caption>
      <thead>
        <tr>
          <th scope="col">mark</th>
          <th scope="col">what</th>
          <th scope="col">grade</th>
          <th scope="col">why</th>
        </tr>
      </thead>
      <tbody>
        {marks.map((mark) => (
          <Row key={mark.key} page={page} mark={mark} />
        ))}
      </tbody>
    </table>
  );
}

/** Verdicts of a chapter that hang at no mark, which no row of the table would show. */
function Unmarked({ page, chapter }: { page: Page; chapter: string }) {
  const text = useText();
  const own = page.verdicts.filter((one) => one.chapter === chapter && one.mark === null && one.grade !== "sound");
  if (own.length === 0) {
    return null;
  }
  return (
    <section aria-labelledby="unmarked">
      <h2 id="unmarked">At no one mark</h2>
      <ul className="verdict-lines">
        {own.map((one) => (
          <li key={one.id}>
            <GradeWord grade={one.grade} />
            <button type="button" className="line-key" onClick={() => open(one.id)}>
              {one.title}
            </button>
            <p>{text(one.because)}</p>
          </li>
        ))}
      </ul>
    </section>
  );
}

export function Circuit({ page }: { page: Page }) {
  return (
    <Body page={page} chapter="circuit">
      <Unmarked page={page} chapter="circuit" />
      <h2>In order of flow</h2>
      <Table page={page} marks={page.marks.filter((mark) => mark.kind !== "joint")} name="Runs, valves and things in order of flow" />
    </Body>
  );
}

export function Fit({ page }: { page: Page }) {
  const joints = page.marks.filter((mark) => mark.kind === "joint");
  return (
    <Body page={page} chapter="fit">
      <h2>Joints</h2>
      {joints.length === 0 ? <p>No joint is written yet.</p> : <Table page={page} marks={joints} name="Joints in order of flow" />}
      <Unmarked page={page} chapter="fit" />
    </Body>
  );
}

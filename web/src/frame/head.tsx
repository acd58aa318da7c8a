/** Head of the sheet: the chapter and its question; arrangement and state in words. */
import { chapterOf, setArrangement, setState, usePage } from "../state";

export function Head() {
  const answer = usePage((state) => state.page);
  const chapter = usePage((state) => state.chapter);
  const trial = usePage((state) => state.trial !== null);
  const own = chapterOf(answer, chapter);
  return (
    <header className="head">
      <h1>{chapter === "boat" ? (answer?.boat?.name ?? "Hosewright") : (own?.title ?? "Hosewright")}</h1>
      <p className="question">{own?.question}</p>
      {trial && (
        <p className="trial-band" role="status">
          Trial only. Not in the boat file.
        </p>
      )}
      <Choices />
    </header>
  );
}

export function Choices() {
  const answer = usePage((state) => state.page);
  const arrangement = usePage((state) => state.arrangement);
  const state = usePage((now) => now.state);
  if (!answer?.boat) {
    return null;
  }
  return (
    <div className="choices-row">
      {answer.arrangements.length > 1 && (
        <div className="words" role="group" aria-label="Arrangement">
          {answer.arrangements.map((one) => (
            <button
              type="button"
              key={one.key}
              aria-pressed={one.key === arrangement}
              onClick={() => setArrangement(one.key)}
            >
              {one.title}
            </button>
          ))}
        </div>
      )}
      {answer.states.length > 0 && (
        <div className="words" role="group" aria-label="State">
          {answer.states.map((one) => (
            <button
              type="button"
              key={one.key}
              aria-pressed={one.key === state}
              onClick={() => setState(one.key)}
            >
              {one.title}
            </button>
          ))}
        </div>
      )}
    </div>
  );
}

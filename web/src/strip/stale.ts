/** Whether a drawing still shows the answer on the sheet. */
import type { Drawing, Page } from "../sent";

/** What was asked last, and for which answer; `drawing` is null while it is under way. */
export interface Fetched {
  text: string;
  answer: Page;
  drawing: Drawing | null;
}

/** Whether something of the boat, or what it is a piece of, is in a drawing. */
function held(drawing: Drawing): (key: string) => boolean {
  const keys = new Set(drawing.marks.map((mark) => mark.key));
  for (const placed of drawing.placed) {
    for (let key = placed.key ?? ""; key !== ""; key = key.slice(0, Math.max(0, key.lastIndexOf(".")))) {
      keys.add(key);
    }
  }
  return (key) => keys.has(key);
}

/** What an answer gives a drawing to show: the grades of what it holds, and what is said of that. */
function given(answer: Page, drawing: Drawing | null): string {
  const within = drawing === null ? () => true : held(drawing);
  const grades = answer.verdicts
    .filter((verdict) => verdict.key === null || within(verdict.key))
    .map((verdict) => `${verdict.id} ${verdict.grade}`)
    // The worst stand first: where one of another thing moved, the order of these may have too.
    .sort();
  const marks = answer.marks
    .filter((mark) => within(mark.key))
    .map((mark) => [mark.key, mark.grade, mark.spoken.metric, mark.spoken.imperial]);
  return JSON.stringify([grades, marks]);
}

/** Whether it has to be asked for: for another question, another change of the file, or another grade in it. */
export function isStale(had: Fetched | null, text: string, answer: Page): boolean {
  if (had === null || had.text !== text || had.answer.number !== answer.number) {
    return true;
  }
  if (had.answer === answer) {
    return false;
  }
  if (had.answer.arrangement !== answer.arrangement) {
    // It was asked for before its answer was there. What settles after that is told; what had settled was not.
    return answer.settled;
  }
  return given(had.answer, had.drawing) !== given(answer, had.drawing);
}

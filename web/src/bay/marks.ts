/** The words that the picture wants, with their places in space. */
import type { Bay, BayRun, P3 } from "./form";
import { gradeOf } from "./form";
import { worst } from "../reckoned";
import type { Rank } from "./labels";
import { add, beside, less, placeOn, square, times, unit } from "./space";
import type { Grade } from "../sent";

export interface Named {
  id: string;
  text: string;
  rank: Rank;
  at: P3;
  /** Key of what it stands for. */
  key: string | null;
  grade: Grade | null;
  bold: boolean;
}
export interface Shown {
  chosen: string | null;
  keepOuts: boolean;
}

/** From how many runs on the figures of sound ones are left to the table. */
const FEW = 6;

/** Whether a run's figures stand in the picture: the chosen one's, those that are not sound, all where there are few. */
export function isFigured(bay: Bay, run: BayRun, chosen: string | null): boolean {
  const joint = bay.clips.find((clip) => clip.mark === chosen)?.joint;
  const own = run.mark === chosen || (joint?.startsWith(`${run.run}.`) ?? false);
  return own || run.grade !== "sound" || (chosen === null && bay.runs.length <= FEW);
}

const rankOf = (grade: Grade | null, chosen: boolean): Rank => (chosen ? "chosen" : (grade ?? "note"));

export function named(bay: Bay, { chosen, keepOuts }: Shown): Named[] {
  const out: Named[] = [];
  const note = (id: string, text: string, at: P3, rank: Rank = "note", key: string | null = null) =>
    out.push({ id, text, rank, at, key, grade: null, bold: false });
  for (const run of bay.runs) {
    const line = run.parts.flatMap((part) => part.line);
    const spot = placeOn(line, 0.5);
    const grade = gradeOf(run.grade);
    if (spot) {
      out.push({ id: `run ${run.run}`, text: run.mark, rank: rankOf(grade, run.mark === chosen), at: spot.at, key: run.run, grade, bold: true });
    }
    if (isFigured(bay, run, chosen)) {
      if (run.gap) {
        note(`gap ${run.run}`, run.gap.text, times(add(run.gap.from, run.gap.to), 0.5), "figure");
      }
      if (run.bend) {
        note(`bend ${run.run}`, run.bend.text, run.bend.centre, "figure");
      }
      run.highs.forEach((high, at) => note(`high ${run.run} ${at}`, high.text, high.at));
      run.lows.forEach((low, at) => note(`low ${run.run} ${at}`, low.text, low.at));
    }
  }
  // Clips of one end stand side by side: one mark does for them.
  for (const clip of bay.clips.filter((one) => one.nth === 1)) {
    const ends = bay.clips.filter((one) => one.joint === clip.joint);
    const grade = worst(ends.map((one) => gradeOf(one.grade)));
    const axis = unit(clip.axis);
    const out_ = clip.screw ? unit(square(less(clip.screw, clip.at), axis), beside(axis)) : unit(clip.noon);
    out.push({
      id: `clip ${clip.joint}`,
      text: clip.mark,
      rank: rankOf(grade, clip.mark === chosen),
      at: add(clip.at, times(out_, clip.radius)),
      key: clip.joint,
      grade,
      bold: true,
    });
  }
  for (const body of bay.bodies) {
    const top = topOf(body.faces.points);
    if (top) {
      note(`body ${body.name}`, keepOuts && body.nature !== "solid" ? `${body.title}, ${body.nature}` : body.title, top, keepOuts && body.nature !== "solid" ? "note" : "name");
    }
  }
  const corner = bay.hatch?.corners[0];
  if (corner) {
    note("hatch", "hatch", corner, "name");
  }
  return out;
}

/** The middle of a body's upper end. */
function topOf(points: readonly P3[]): P3 | null {
  let low: P3 | null = null;
  let high: P3 | null = null;
  for (const point of points) {
    const [l, h]: [P3, P3] = [low ?? point, high ?? point];
    low = [Math.min(l[0], point[0]), Math.min(l[1], point[1]), Math.min(l[2], point[2])];
    high = [Math.max(h[0], point[0]), Math.max(h[1], point[1]), Math.max(h[2], point[2])];
  }
  return low && high ? [(low[0] + high[0]) / 2, (low[1] + high[1]) / 2, high[2]] : null;
}

/** The mark of a joint by its key, and where it stands: a run is no place. */
export function endOf(bay: Bay, key: string): { name: string; at: P3 } | null {
  const clip = bay.clips.find((one) => one.joint === key);
  return clip ? { name: clip.mark, at: clip.at } : null;
}

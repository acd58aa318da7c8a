/** What an edit changed, and how lists are leafed through. */
import type { Grade, Mark, Page, PageVerdict } from "./sent";

const WORST: readonly Grade[] = ["unsound", "marginal", "unmeasured", "sound"];

/** The worst of several grades; null of none. */
export function worst(grades: readonly (Grade | null)[]): Grade | null {
  return WORST.find((grade) => grades.includes(grade)) ?? null;
}

/** Marks of `after` whose grade is another than in `before`. */
export function changes(before: Page, after: Page): Mark[] {
  const was = new Map(before.marks.map((mark) => [mark.key, mark.grade]));
  return after.marks.filter((mark) => was.has(mark.key) && was.get(mark.key) !== mark.grade);
}

/** The counts in one sentence. */
export function counted(counts: Page["counts"]): string {
  const said = (["unsound", "marginal", "unmeasured", "sound"] as const).map(
    (grade) => `${counts[grade]} ${grade}`,
  );
  return `${said.join(", ")}.`;
}

/** The verdict after or before one among its neighbours; it goes round. */
export function beside(
  verdicts: readonly PageVerdict[],
  id: string | null,
  step: 1 | -1,
): PageVerdict | undefined {
  const at = verdicts.findIndex((verdict) => verdict.id === id);
  if (at < 0) {
    return verdicts[step > 0 ? 0 : verdicts.length - 1];
  }
  return verdicts[(at + step + verdicts.length) % verdicts.length];
}

/** The mark after or before one along the flow; it stops at the ends. */
export function along(marks: readonly Mark[], chosen: string | null, step: 1 | -1): Mark | undefined {
  const joints = marks.filter((mark) => mark.kind === "joint");
  const at = joints.findIndex((mark) => mark.mark === chosen);
  if (at < 0) {
    return joints[step > 0 ? 0 : joints.length - 1];
  }
  return joints[Math.min(Math.max(at + step, 0), joints.length - 1)];
}

/** Whether a verdict answers an older edit than the last. */
export function isOld(verdict: PageVerdict, page: Page, pending: boolean): boolean {
  return pending || (!page.settled && verdict.as_of < page.number);
}

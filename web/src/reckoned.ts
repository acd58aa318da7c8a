/** What an edit changed, in the few words that the page itself says. */
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

/** How many are left of a grade, in words. */
export function left(count: number, grade: Grade): string {
  return count === 0 ? `No ${grade} left.` : `${count} ${grade} left.`;
}

/** One sentence about an edit: the chosen mark first, else the first that changed. */
export function tidings(before: Page, after: Page, chosen: string | null): string {
  const moved = changes(before, after);
  const one = moved.find((mark) => mark.mark === chosen) ?? moved[0];
  const counted = before.counts.unsound === after.counts.unsound;
  const rest = counted ? "" : left(after.counts.unsound, "unsound");
  if (!one) {
    return rest;
  }
  const more = moved.length > 1 ? ` ${moved.length - 1} more changed.` : "";
  return `${one.mark} is now ${one.grade ?? "not judged"}.${more} ${rest}`.trim();
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

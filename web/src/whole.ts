/** An answer that tells only what differs from the one before, made whole again. */
import type { Page, PageVerdict } from "./sent";

/** The whole answer; null where a verdict is in neither, so that it must be asked for anew. */
export function whole(before: Page | null, answer: Page): Page | null {
  const own = new Map(answer.verdicts.map((verdict) => [verdict.id, verdict]));
  if (own.size === answer.order.length) {
    return answer;
  }
  const old = new Map(before?.verdicts.map((verdict) => [verdict.id, verdict]));
  const verdicts: PageVerdict[] = [];
  for (const { id, as_of } of answer.order) {
    const verdict = own.get(id) ?? old.get(id);
    if (verdict === undefined) {
      return null;
    }
    verdicts.push(verdict.as_of === as_of ? verdict : { ...verdict, as_of });
  }
  return { ...answer, verdicts };
}

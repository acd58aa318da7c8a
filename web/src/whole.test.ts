import { expect, test } from "vitest";

import type { Page, PageVerdict } from "./sent";
import { whole } from "./whole";

const verdict = (id: string, as_of: number, because = id) =>
  ({ id, as_of, because: { metric: because, imperial: because } }) as PageVerdict;
const answer = (verdicts: PageVerdict[], order: [string, number][]) =>
  ({ verdicts, order: order.map(([id, as_of]) => ({ id, as_of })) }) as unknown as Page;

test("what was not sent stands as before, in the new order and as of the new change", () => {
  const before = answer([verdict("a", 3), verdict("b", 3), verdict("c", 3)], []);
  const after = whole(before, answer([verdict("b", 4, "new")], [["b", 4], ["a", 4], ["c", 3]]));
  expect(after?.verdicts).toEqual([verdict("b", 4, "new"), verdict("a", 4), verdict("c", 3)]);
});

test("a verdict that is told nowhere makes it an answer to be asked for anew", () => {
  expect(whole(answer([verdict("a", 3)], []), answer([], [["a", 4], ["z", 4]]))).toBeNull();
  expect(whole(null, answer([], [["a", 4]]))).toBeNull();
});

test("an answer that tells all is taken as it is", () => {
  const all = answer([verdict("a", 4)], [["a", 4]]);
  expect(whole(null, all)).toBe(all);
});

import { expect, test } from "vitest";
import type { Drawing, Grade, Mark, Page, PageVerdict } from "../sent";
import { isStale, type Fetched } from "./stale";

const words = (of: string) => ({ metric: of, imperial: of });
const mark = (key: string, grade: Grade, spoken = key): Mark => ({
  mark: key,
  key,
  kind: "joint",
  title: key,
  grade,
  verdict: null,
  spoken: words(spoken),
});
const verdict = (key: string | null, grade: Grade, chance: number) =>
  ({ id: `fit.${key}.clip`, key, grade, chance, chance_text: words(`holds ${100 * chance} in 100`) }) as PageVerdict;
const page = (verdicts: PageVerdict[], part: Partial<Page> = {}) =>
  ({ number: 3, settled: false, arrangement: "after", verdicts, marks: verdicts.map((own) => mark(own.key ?? "", own.grade)), ...part }) as Page;
const drawing = {
  marks: [{ key: "hot.from", mark: "A1", x: 10 }],
  placed: [{ class: "loop", key: "cold.hose", shape: { path: "M0 0" } }],
} as unknown as Drawing;

const prompt = page([verdict("hot.from", "sound", 0.96), verdict("cold", "sound", 0.97), verdict("tank.to", "marginal", 0.9)]);
const had: Fetched = { text: "one", answer: prompt, drawing };
const settled = (...verdicts: PageVerdict[]) => page(verdicts, { settled: true });

test("chances that settle alone ask for no drawing", () => {
  const after = settled(verdict("hot.from", "sound", 0.99), verdict("cold", "sound", 0.98), verdict("tank.to", "marginal", 0.8));
  expect(isStale(had, "one", after)).toBe(false);
});

test("a grade that moves asks for it where its joint, or the run of a piece, is in the drawing", () => {
  const joint = settled(verdict("hot.from", "marginal", 0.9), verdict("cold", "sound", 0.97), verdict("tank.to", "marginal", 0.9));
  expect(isStale(had, "one", joint)).toBe(true);
  const run = settled(verdict("hot.from", "sound", 0.96), verdict("cold", "unsound", 0.1), verdict("tank.to", "marginal", 0.9));
  expect(isStale(had, "one", run)).toBe(true);
});

test("a grade that moves elsewhere does not, in whatever order the verdicts then come", () => {
  const after = settled(verdict("tank.to", "unsound", 0.1), verdict("cold", "sound", 0.97), verdict("hot.from", "sound", 0.96));
  after.marks = prompt.marks.map((own) => (own.key === "tank.to" ? { ...own, grade: "unsound" } : own));
  expect(isStale(had, "one", after)).toBe(false);
  // While it is under way nobody knows what is in it.
  expect(isStale({ ...had, drawing: null }, "one", after)).toBe(true);
});

test("what is said of a joint in it asks for it", () => {
  const after = { ...prompt, settled: true, marks: prompt.marks.map((own) => ({ ...own, spoken: words(`${own.key}, another reason`) })) };
  expect(isStale(had, "one", after)).toBe(true);
});

test("another question, another change of the file and a lost answer ask for it", () => {
  expect(isStale(had, "one", prompt)).toBe(false);
  expect(isStale(had, "two", prompt)).toBe(true);
  expect(isStale(had, "one", { ...prompt, number: 4 })).toBe(true);
  expect(isStale(null, "one", prompt)).toBe(true);
});

test("a drawing that was asked for before the answer about its arrangement came stands where nothing is settled yet", () => {
  const other = { ...prompt, arrangement: "before" };
  expect(isStale(had, "one", other)).toBe(false);
  expect(isStale(had, "one", { ...other, settled: true })).toBe(true);
});

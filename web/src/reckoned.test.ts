import { describe, expect, it } from "vitest";
import type { Grade, Mark, Page, PageVerdict } from "./sent";
import { along, beside, changes, counted, isOld, worst } from "./reckoned";

const mark = (name: string, grade: Grade | null, kind: Mark["kind"] = "joint"): Mark => ({
  mark: name,
  key: `key ${name}`,
  kind,
  title: name,
  grade,
  verdict: null,
  spoken: { metric: name, imperial: name },
});
const page = (marks: Mark[], unsound: number, part: Partial<Page> = {}): Page => ({
  schema: "hosewright.page/1",
  run: "a run",
  number: 1,
  settled: true,
  boat: null,
  locked: null,
  arrangements: [],
  arrangement: null,
  states: [],
  counts: { unsound, marginal: 2, unmeasured: 6, sound: 31 },
  remarks: [],
  chapters: [],
  verdicts: [],
  order: [],
  marks,
  next: [],
  history: { back: null, forth: null, steps: [] },
  changed: [],
  told: "",
  comment: null,
  ...part,
});

describe("what an edit changed", () => {
  const before = page([mark("A1", "sound"), mark("A2", "unsound"), mark("A3", "marginal")], 1);

  it("finds the marks whose grade moved, and no mark that is new", () => {
    const after = page([mark("A1", "sound"), mark("A2", "sound"), mark("A9", "unsound")], 0);
    expect(changes(before, after).map((one) => one.mark)).toEqual(["A2"]);
  });

  it("counts what there is", () => {
    expect(counted(before.counts)).toBe("1 unsound, 2 marginal, 6 unmeasured, 31 sound.");
  });

  it("ranks unsound as worst and nothing as nothing", () => {
    expect(worst(["sound", "unmeasured", "marginal"])).toBe("marginal");
    expect(worst([null])).toBeNull();
  });
});

describe("walking", () => {
  const marks = [mark("A", null, "run"), mark("A1", "sound"), mark("A2", "sound"), mark("V1", null, "valve")];

  it("goes from joint to joint and stops at the ends", () => {
    expect(along(marks, null, 1)?.mark).toBe("A1");
    expect(along(marks, "A1", 1)?.mark).toBe("A2");
    expect(along(marks, "A2", 1)?.mark).toBe("A2");
    expect(along(marks, "A1", -1)?.mark).toBe("A1");
  });

  it("leafs round through verdicts", () => {
    const all = [{ id: "a" }, { id: "b" }] as PageVerdict[];
    expect(beside(all, "b", 1)?.id).toBe("a");
    expect(beside(all, "a", -1)?.id).toBe("b");
    expect(beside(all, null, 1)?.id).toBe("a");
    expect(beside([], null, 1)).toBeUndefined();
  });
});

describe("an old answer", () => {
  const verdict = { as_of: 4 } as PageVerdict;

  it("is old while the edit is under way, or until what follows is settled", () => {
    expect(isOld(verdict, page([], 0, { number: 5, settled: false }), false)).toBe(true);
    expect(isOld(verdict, page([], 0, { number: 4, settled: false }), false)).toBe(false);
    expect(isOld(verdict, page([], 0, { number: 4 }), true)).toBe(true);
  });

  it("is not old where all is settled: its inputs did not change", () => {
    expect(isOld(verdict, page([], 0, { number: 5, settled: true }), false)).toBe(false);
  });
});

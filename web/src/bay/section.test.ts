import { describe, expect, it } from "vitest";
import type { P3 } from "./form";
import { areaOf, cutOf, isCut, planeFor, reachOf, squareTo, stepped } from "./section";
import { block, tube } from "./tube";

const AXES = { x: "forward", y: "to port" };
const CUBE = block([0, 0, 0], [1, 2, 3], [[1, 0, 0], [0, 1, 0], [0, 0, 1]]);

describe("a cut", () => {
  it("of a box is its own rectangle", () => {
    const { closed, open } = cutOf(CUBE, { normal: [0, 0, 1], at: 0.5 });
    expect(open).toEqual([]);
    expect(closed).toHaveLength(1);
    // 2 by 4; the sum is twice the area.
    expect(Math.abs(areaOf(closed[0] ?? [], [0, 0, 1]))).toBeCloseTo(16, 9);
    closed[0]?.forEach((point) => expect(point[2]).toBeCloseTo(0.5, 12));
  });

  it("just on a face or through corners still closes", () => {
    for (const plane of [{ normal: [0, 0, 1] as P3, at: 3 }, { normal: [0, 0, 1] as P3, at: -3 }, { normal: [Math.SQRT1_2, Math.SQRT1_2, 0] as P3, at: 0 }]) {
      expect(cutOf(CUBE, plane).open).toEqual([]);
    }
  });

  it("across a tube is nearly its circle", () => {
    const round = tube([[0, 0, 0], [1, 0, 0]], 0.1, 96);
    const { closed } = cutOf(round, { normal: [1, 0, 0], at: 0.4 });
    expect(closed).toHaveLength(1);
    expect(Math.abs(areaOf(closed[0] ?? [], [1, 0, 0])) / 2).toBeCloseTo(Math.PI * 0.01, 4);
  });

  it("of two bodies in one mesh gives two loops", () => {
    const other = block([5, 0, 0], [1, 1, 1], [[1, 0, 0], [0, 1, 0], [0, 0, 1]]);
    const both = { at: [...CUBE.at, ...other.at], index: [...CUBE.index, ...[...other.index].map((i) => i + 8)] };
    expect(cutOf(both, { normal: [0, 0, 1], at: 0 }).closed).toHaveLength(2);
  });

  it("of a mesh with a hole is an open line, and not filled", () => {
    const holed = { at: CUBE.at, index: CUBE.index.slice(6) };
    const cut = cutOf(holed, { normal: [0, 0, 1], at: 0.5 });
    expect(cut.closed).toEqual([]);
    expect(cut.open).toHaveLength(1);
    expect(cut.open[0]?.length).toBeGreaterThan(3);
  });
});

it("takes away what stands between it and the eye, from whichever side one looks", () => {
  // From starboard, looking to port: what is more to starboard goes.
  const starboard = planeFor("fore-and-aft", 0.1, AXES, [0, 1, 0]);
  expect(isCut(starboard, [0, 0, 0])).toBe(true);
  expect(isCut(starboard, [0, 0.2, 0])).toBe(false);
  const port = planeFor("fore-and-aft", 0.1, AXES, [0, -1, 0]);
  expect(isCut(port, [0, 0, 0])).toBe(false);
  expect(isCut(port, [0, 0.2, 0])).toBe(true);
  const above = planeFor("level", 0.3, AXES, [0, 0, -1]);
  expect(isCut(above, [0, 0, 0.4])).toBe(true);
  expect(isCut(null, [0, 0, 9])).toBe(false);
});

it("is named by what it lies along", () => {
  expect(squareTo("fore-and-aft", AXES)).toEqual([0, 1, 0]);
  expect(squareTo("athwart", AXES)).toEqual([1, 0, 0]);
  expect(squareTo("level", AXES)).toEqual([0, 0, 1]);
  expect(reachOf("athwart", AXES, { low: [-2, 0, 0], high: [3, 1, 1] })).toEqual([-2, 3]);
  const [a, b] = reachOf("athwart", { x: "aft", y: "to starboard" }, { low: [-2, 0, 0], high: [3, 1, 1] });
  expect([a, b]).toEqual([-3, 2]);
});

it("goes by whole steps, and not past the bay", () => {
  expect(stepped(0.123, 0.01, [-1, 1])).toBeCloseTo(0.13, 12);
  expect(stepped(0.13, 0.01, [-1, 1])).toBeCloseTo(0.14, 12);
  expect(stepped(0.123, -0.01, [-1, 1])).toBeCloseTo(0.12, 12);
  expect(stepped(0.12, -0.001, [-1, 1])).toBeCloseTo(0.119, 12);
  expect(stepped(0.999, 0.01, [-1, 1])).toBe(1);
  expect(stepped(-0.999, -0.01, [-1, 1])).toBe(-1);
});

import { describe, expect, it } from "vitest";
import type { Placed } from "../sent";
import { crowded, isChosen, merged, reach, rowsSeen } from "./merged";

const path = (of: string, d: string, key?: string): Placed =>
  key === undefined ? { class: of, shape: { path: d } } : { class: of, key, shape: { path: d } };

describe("gathering primitives", () => {
  it("makes one path of neighbours of a class, and keeps the order", () => {
    const placed = [
      path("suction", "M0 0L1 1"),
      path("suction", "M2 0L3 1"),
      path("loop", "M0 5L9 5", "hot.hose"),
      path("suction", "M4 0L5 1"),
    ];
    expect(merged(placed)).toEqual([
      path("suction", "M0 0L1 1M2 0L3 1"),
      path("loop", "M0 5L9 5", "hot.hose"),
      path("suction", "M4 0L5 1"),
    ]);
  });

  it("leaves alone what can be chosen and what is filled", () => {
    const placed = [path("fine", "M0 0", "a"), path("fine", "M1 1", "b"), path("sheet", "M0 0Z"), path("sheet", "M1 1Z")];
    expect(merged(placed)).toEqual(placed);
  });
});

describe("what is chosen", () => {
  it("is the thing itself and the pieces of a chosen run, not a neighbour of a like name", () => {
    expect(isChosen("hot.hose", "hot")).toBe(true);
    expect(isChosen("hot", "hot")).toBe(true);
    expect(isChosen("hotter.hose", "hot")).toBe(false);
    expect(isChosen("hot", "hot.hose")).toBe(false);
    expect(isChosen(undefined, "hot")).toBe(false);
    expect(isChosen("hot", null)).toBe(false);
  });
});

describe("places to press", () => {
  const marks = [{ x: 100 }, { x: 115 }, { x: 131 }, { x: 200 }];

  it("go together where they are nearer than a finger", () => {
    expect(crowded(marks, 20).map((group) => group.length)).toEqual([3, 1]);
    expect(crowded(marks, 10).every((group) => group.length === 1)).toBe(true);
  });

  it("never lie over each other", () => {
    expect(reach(marks, 0, 20)).toBe(7.5);
    expect(reach(marks, 3, 20)).toBe(20);
    expect(reach([{ x: 5 }], 0, 20)).toBe(20);
  });
});

describe("rows of the band table", () => {
  it("are as many as the drawing has room for", () => {
    expect(rowsSeen("ribbon", 7)).toBe(0);
    expect(rowsSeen("half", 7)).toBe(1);
    expect(rowsSeen("tall", 7)).toBe(5);
    expect(rowsSeen("tall", 2)).toBe(2);
  });
});

import { describe, expect, it } from "vitest";
import { back, fitted, flat, isBehindEye, looking, nearer, partway, rightOf, shift, turn, type View } from "./camera";
import type { P3 } from "./form";
import { dot, long } from "./space";

const SIZE = { width: 800, height: 400 };
/** From starboard, +y to port. */
const SIDE: View = { ...looking([0, 1, 0], [0, 0, 1]), centre: [0, 0, 0], scale: 100 };

const close = (a: readonly number[], b: readonly number[]) => a.forEach((value, at) => expect(value).toBeCloseTo(b[at] ?? NaN, 9));

describe("a parallel picture", () => {
  it("has the same scale all over, right to the right and up upward", () => {
    close(rightOf(SIDE), [1, 0, 0]);
    expect(flat(SIDE, SIZE, [1, 0, 0.5])).toEqual({ x: 500, y: 150, depth: 0 });
    expect(flat(SIDE, SIZE, [1, 7, 0.5])).toEqual({ x: 500, y: 150, depth: 7 });
  });

  it("gives back the spot that a point was drawn at", () => {
    const view = turn(SIDE, 0.4, 0.3);
    const spot = flat(view, SIZE, back(view, SIZE, 123, 45));
    expect(spot.x).toBeCloseTo(123, 9);
    expect(spot.y).toBeCloseTo(45, 9);
  });

  it("fits a box with its margin, whichever side is the longer", () => {
    const wide = fitted(looking([0, 1, 0], [0, 0, 1]), [[-2, 0, 0], [2, 0, 1]], SIZE, 20);
    expect(wide.scale).toBeCloseTo(760 / 4, 9);
    const high = fitted(looking([0, 1, 0], [0, 0, 1]), [[0, 0, -3], [0.1, 0, 3]], SIZE, 20);
    expect(high.scale).toBeCloseTo(360 / 6, 9);
    close(high.centre, [0.05, 0, 0]);
  });
});

describe("hands", () => {
  it("turn about the plumb line, so that the picture stays upright", () => {
    const view = turn(SIDE, 0.7, 0.4);
    expect(dot(view.way, view.up)).toBeCloseTo(0, 9);
    expect(long(view.way)).toBeCloseTo(1, 9);
    // What is plumb is drawn upright: no part of it goes to the right.
    expect(dot([0, 0, 1], rightOf(view))).toBeCloseTo(0, 9);
  });

  it("drag what is near along: a hand that goes right sees the left side", () => {
    const near: P3 = [0, -1, 0];
    expect(flat(turn(SIDE, 0.1, 0), SIZE, near).x).toBeGreaterThan(400);
    expect(flat(turn(SIDE, 0, 0.1), SIZE, near).y).toBeGreaterThan(200);
  });

  it("never turn over the plumb line", () => {
    const down = turn(SIDE, 0, 20);
    expect(down.way[2]).toBeLessThan(-0.99);
    expect(turn(down, 0, 5).way[2]).toBeLessThan(-0.99);
    expect(turn(down, 1, -0.5).way[2]).toBeGreaterThan(-0.95);
  });

  it("shift by what they moved", () => {
    const view = shift(SIDE, 30, -10);
    expect(flat(view, SIZE, [0, 0, 0])).toMatchObject({ x: 430, y: 190 });
  });

  it("hold what lies under them while they come nearer", () => {
    const view = nearer(SIDE, SIZE, 2, 600, 100);
    expect(view.scale).toBe(200);
    const held = flat(view, SIZE, [2, 0, 1]);
    expect(held.x).toBeCloseTo(600, 9);
    expect(held.y).toBeCloseTo(100, 9);
  });
});

it("a swing begins and ends at its views, and keeps the picture square", () => {
  const to: View = { ...looking([0, 0, -1], [0, 1, 0]), centre: [1, 2, 3], scale: 400 };
  expect(partway(SIDE, to, 1)).toBe(to);
  const half = partway(SIDE, to, 0.5);
  expect(half.scale).toBeCloseTo(200, 9);
  expect(dot(half.way, half.up)).toBeCloseTo(0, 9);
});

it("straight up and down one still knows which way is up", () => {
  const view = looking([0, 0, -1], [0, 0, 1]);
  expect(Math.abs(dot(view.way, view.up))).toBeLessThan(1e-9);
});

it("what lies before a stepped-in eye is not seen", () => {
  const view: View = { ...SIDE, eye: [0, 1, 0] };
  expect(isBehindEye(view, [0, 0.5, 0])).toBe(true);
  expect(isBehindEye(view, [0, 1.5, 0])).toBe(false);
  expect(isBehindEye(SIDE, [0, -9, 0])).toBe(false);
  expect(turn(view, 0.1, 0).eye).toBeUndefined();
});

import { describe, expect, it } from "vitest";
import type { P3 } from "./form";
import { inked, growing, volumeOf } from "./mesh";
import { dot, far, onClock, placeOn, unit } from "./space";
import { bendArc, block, framesOf, layLine, ring, sparse, tube, wedge } from "./tube";

const ARC: P3[] = Array.from({ length: 31 }, (_, k) => [Math.sin((k * Math.PI) / 60), 1 - Math.cos((k * Math.PI) / 60), 0]);

describe("a tube", () => {
  it("is closed and right side out: it holds what a prism of as many sides holds", () => {
    const n = 24;
    const prism = 0.5 * n * Math.sin((2 * Math.PI) / n) * 0.03 ** 2 * 2;
    expect(volumeOf(tube([[0, 0, 0], [2, 0, 0]], 0.03, n))).toBeCloseTo(prism, 8);
    expect(volumeOf(tube(ARC, 0.03))).toBeGreaterThan(0);
  });

  it("passes each point of its line at its radius", () => {
    const { at } = tube(ARC, 0.03, 12);
    for (let k = 0; k < 12; k += 1) {
      expect(far([at[3 * k] ?? 0, at[3 * k + 1] ?? 0, at[3 * k + 2] ?? 0], ARC[0] ?? [0, 0, 0])).toBeCloseTo(0.03, 6);
    }
  });

  it("is not twisted: in a level bend the lay line stays uppermost", () => {
    layLine(ARC, 0.03).forEach((point) => expect(point[2]).toBeCloseTo(0.03, 9));
  });

  it("carries its side along square to itself round a bend that leaves its plane", () => {
    const line: P3[] = Array.from({ length: 40 }, (_, k) => [Math.cos(k / 8), Math.sin(k / 8), k / 30]);
    framesOf(line).forEach((frame) => expect(dot(frame.way, frame.side)).toBeCloseTo(0, 9));
  });
});

it("a line as drawn has few points, and stays by its own", () => {
  const line: P3[] = [...ARC, ...Array.from({ length: 50 }, (_, k): P3 => [1, 1 + (k + 1) / 50, 0])];
  const drawn = sparse(line);
  expect(drawn.length).toBeLessThan(line.length / 2 + 10);
  expect([drawn[0], drawn.at(-1)]).toEqual([line[0], line.at(-1)]);
  for (const point of line) {
    const off = drawn.slice(1).map((b, k) => {
      const a = drawn[k] ?? b;
      const [way, out] = [[0, 1, 2].map((i) => (b[i] ?? 0) - (a[i] ?? 0)) as P3, [0, 1, 2].map((i) => (point[i] ?? 0) - (a[i] ?? 0)) as P3];
      const share = Math.min(1, Math.max(0, dot(out, way) / dot(way, way)));
      return far(point, [0, 1, 2].map((i) => (a[i] ?? 0) + share * (way[i] ?? 0)) as P3);
    });
    expect(Math.min(...off)).toBeLessThan(0.00011);
  }
});

describe("a clock", () => {
  it("goes with the hands of a watch for one who looks along its axis", () => {
    // Looking forward with up at noon, 3 o'clock is to starboard.
    const three = onClock([1, 0, 0], [0, 0, 1], 90);
    expect(three).toEqual([0, -1, 0].map((one) => expect.closeTo(one, 12)));
  });

  it("hatches a free arc from its first to its last hour, over noon too", () => {
    const { outline } = wedge([0, 0, 0], [1, 0, 0], [0, 0, 1], 0.03, 0.08, 330, 30);
    const outer = outline.filter((point) => Math.hypot(...point) > 0.05);
    outer.forEach((point) => expect(point[2]).toBeGreaterThan(0.08 * Math.cos(Math.PI / 6) - 1e-9));
  });
});

it("a ring stands square to its axis", () => {
  const axis = unit([1, 2, 3]);
  ring([1, 1, 1], axis, 0.2).forEach((point) => {
    expect(dot([point[0] - 1, point[1] - 1, point[2] - 1], axis)).toBeCloseTo(0, 9);
    expect(far(point, [1, 1, 1])).toBeCloseTo(0.2, 9);
  });
});

it("the arc of a bend passes through its tightest spot, at its radius", () => {
  const arc = bendArc([1, 0, 0], [0, 0, 0], [0, 1, 0]);
  expect(arc[8]).toEqual([1, 0, 0].map((one) => expect.closeTo(one, 9)));
  arc.forEach((point) => expect(Math.hypot(...point)).toBeCloseTo(1, 9));
  expect((arc[16]?.[1] ?? 0) * (arc[0]?.[1] ?? 0)).toBeLessThan(0);
});

it("a place on a line lies at its share of the length", () => {
  expect(placeOn([[0, 0, 0], [1, 0, 0], [1, 3, 0]], 0.5)).toEqual({ at: [1, 1, 0], way: [0, 1, 0] });
  expect(placeOn([], 0.5)).toBeNull();
});

describe("a body in ink", () => {
  const cube = block([0, 0, 0], [1, 1, 1], [[1, 0, 0], [0, 1, 0], [0, 0, 1]]);
  it("grows by the same at every face: a corner goes out along all three", () => {
    const made = inked(cube);
    expect([...made.grow.slice(0, 3)].map(Math.abs)).toEqual([1, 1, 1].map((one) => expect.closeTo(one, 4)));
    const grown = made.at.map((value, at) => value + 0.5 * (made.grow[at] ?? 0));
    expect(volumeOf({ at: grown, index: made.index })).toBeCloseTo(27, 3);
  });

  it("is turned right side out", () => {
    const wrong = { at: cube.at, index: cube.index.map((_, at) => cube.index[at - (at % 3) + [0, 2, 1][at % 3]!] ?? 0) };
    expect(volumeOf(wrong)).toBeLessThan(0);
    expect(volumeOf(inked(wrong))).toBeCloseTo(8, 6);
  });

  it("joins points that lie on one spot", () => {
    const loose = { at: new Float32Array([...cube.index].flatMap((i) => [...cube.at.slice(3 * i, 3 * i + 3)])), index: Uint32Array.from(cube.index, (_, at) => at) };
    expect(inked(loose).at).toHaveLength(24);
  });

  it("holds a needle's point back", () => {
    const d = growing([unit([0.05, 1, 0]), unit([0.05, -1, 0])]);
    expect(Math.hypot(...d)).toBeLessThanOrEqual(2.2 + 1e-9);
    expect(growing([])).toEqual([0, 0, 0]);
  });
});

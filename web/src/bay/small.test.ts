import { describe, expect, it } from "vitest";
import { dealt } from "./cloud";
import { dimension } from "./dimension";
import { fitted, flat, looking } from "./camera";
import { bars, pairsOf, rayOf, readLength, readP3, wants } from "./pairs";
import { add, dot, less, long, times } from "./space";

it("any beginning of a dealt cloud is spread over all of it, and no point is lost", () => {
  const points = Float32Array.from({ length: 3000 }, (_, i) => Math.floor(i / 3));
  const out = dealt(points);
  expect([...out].sort((a, b) => a - b)).toEqual([...points]);
  const half = out.slice(0, 1500);
  for (const from of [0, 250, 500, 750]) {
    const share = [...half].filter((value) => value >= from && value < from + 250).length / 1500;
    expect(share).toBeGreaterThan(0.2);
    expect(share).toBeLessThan(0.3);
  }
  expect(dealt(new Float32Array(0))).toHaveLength(0);
  expect([...dealt(new Float32Array([1, 2, 3]))]).toEqual([1, 2, 3]);
});

it("arrows stand inside a wide gap and outside of a narrow one", () => {
  const wide = dimension({ x: 0, y: 0 }, { x: 100, y: 0 });
  expect(wide.line.startsWith("M0.0 0.0L100.0 0.0")).toBe(true);
  expect(wide.heads).toContain("M0.0 0.0L7.0 ");
  const narrow = dimension({ x: 0, y: 0 }, { x: 8, y: 0 });
  expect(narrow.line).toContain("M-18.0 0.0L0.0 0.0");
  expect(narrow.heads).toContain("M0.0 0.0L-7.0 ");
  expect(dimension({ x: 5, y: 5 }, { x: 5, y: 5 }).line).not.toContain("NaN");
});

describe("laying a scan", () => {
  it("reads three numbers as people write them", () => {
    expect(readP3("1, 2, 3")).toEqual([1, 2, 3]);
    expect(readP3("1.5 -2 \u22123")).toEqual([1.5, -2, -3]);
    expect(readP3("1,5; 2; 3,25")).toEqual([1.5, 2, 3.25]);
    expect(readP3("1, 2")).toBeNull();
    expect(readP3("1, x, 3")).toBeNull();
    expect(readP3("")).toBeNull();
  });

  it("reads a length with its unit, or in the page's", () => {
    expect(readLength("812", "metric")).toBeCloseTo(0.812, 12);
    expect(readLength("812 mm", "imperial")).toBeCloseTo(0.812, 12);
    expect(readLength("32", "imperial")).toBeCloseTo(0.8128, 12);
    expect(readLength("1,2 m", "metric")).toBeCloseTo(1.2, 12);
    expect(readLength("0", "metric")).toBeNull();
    expect(readLength("8 fathoms", "metric")).toBeNull();
  });

  it("reads a length in any unit that a scan may have", () => {
    for (const [text, metres] of [["2 m", 2], ["2 metres", 2], ["2 cm", 0.02], ["2 mm", 0.002], ["2 in", 0.0508], ['2"', 0.0508], ["2 feet", 0.6096], ["2'", 0.6096]] as const) {
      expect(readLength(text, "metric"), text).toBeCloseTo(metres, 12);
    }
  });

  it("takes known places by their names and others by numbers in the page's units", () => {
    const rows = [
      { name: "P1", at: null, scan: "1, 2, 3" },
      { name: "P2", at: null, scan: "" },
      { name: " a bolt ", at: "100, 200, 300", scan: "4, 5, 6" },
      { name: "", at: "100, 200, 300", scan: "4, 5, 6" },
      { name: "half", at: "100, 200", scan: "4, 5, 6" },
    ];
    expect(pairsOf(rows, "metric")).toEqual([
      { name: "P1", scan: [1, 2, 3], bay: null },
      { name: "a bolt", scan: [4, 5, 6], bay: [0.1, 0.2, 0.3] },
    ]);
    expect(pairsOf(rows, "imperial")[1]?.bay?.[0]).toBeCloseTo(2.54, 12);
  });

  it("says why a file is not taken", () => {
    expect(bars(1000, false, false)).toBeNull();
    expect(bars(200e6, false, false)).toBeNull();
    expect(bars(200e6 + 1, false, false)).toMatch(/201 MB.*200 MB.*thin it out/);
    expect(bars(1000, true, false)).toMatch(/No scan can be taken/);
    expect(bars(1000, false, true)).toMatch(/still being read/);
  });

  it("a press is the line of sight through it, whatever the scan's unit", () => {
    const room = { width: 640, height: 320 };
    const view = fitted(looking([0.5, 0.6, -0.62], [0, 0, 1]), [[0, 0, 0], [1, 0.4, 0.3]], room);
    for (const size of [1, 2.4, 2400]) {
      const point: [number, number, number] = [0.7 * size, 0.1 * size, 0.2 * size];
      const { x, y } = flat(view, room, times(point, 1 / size));
      const ray = rayOf(view, room, x, y, size);
      const along = dot(less(point, ray.from), ray.way);
      expect(long(less(add(ray.from, times(ray.way, along)), point)) / size).toBeLessThan(1e-9);
      // Seven pixels aside.
      const off = rayOf(view, room, x + 7, y, size);
      expect(long(less(off.from, ray.from))).toBeCloseTo(ray.near, 9);
    }
  });

  it("says what is still wanted", () => {
    const known = ["A1", "A2", "B1", "B2"].map((name, at) => ({ name, at: null, scan: at < 3 ? `${at}, 1, 0` : "" }));
    const pairs = pairsOf(known, "metric");
    expect(pairs.map((pair) => pair.name)).toEqual(["A1", "A2", "B1"]);
    expect(wants(pairs, 1, null)).toBeNull();
    expect(wants(pairs.slice(1), 1, null)).toBe("Show the same points in both: 2 of 3.");
    expect(wants(pairs, null, { a: [0, 0, 0], b: [1, 0, 0], long: null })).toMatch(/one length/);
    expect(wants(pairs, null, { a: [0, 0, 0], b: [1, 0, 0], long: 0.8 })).toBeNull();
  });
});

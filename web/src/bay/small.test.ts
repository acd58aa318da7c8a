import { describe, expect, it } from "vitest";
import { dealt } from "./cloud";
import { dimension } from "./dimension";
import { free } from "./hours";
import { pairsOf, readLength, readP3, unitsOf, wants } from "./pairs";

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

it("free arcs are said in half hours, rounded inward", () => {
  expect(free({ free: [{ from: 75, to: 150 }] })).toBe("2½ to 5");
  expect(free({ free: [{ from: 70, to: 155 }] })).toBe("2½ to 5");
  expect(free({ free: [{ from: 330, to: 30 }] })).toBe("11 to 1");
  expect(free({ free: [{ from: 352, to: 361 }] })).toBe("12");
  expect(free({ free: [{ from: 16, to: 29 }] })).toBe("under half an hour");
  expect(free({ free: [{ from: 0, to: 360 }] })).toBe("all round");
  expect(free({ free: [] })).toBe("–");
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

  it("takes the file's word for its unit", () => {
    expect(unitsOf("mm")).toBe(0.001);
    expect(unitsOf("metres")).toBe(1);
    expect(unitsOf("inches")).toBe(0.0254);
    expect(unitsOf(null)).toBeNull();
    expect(unitsOf("leagues")).toBeNull();
  });

  it("says what is still wanted", () => {
    const known = ["A1", "A2", "B1", "B2"].map((name, at) => ({ name, at: [at, 0, 0] as [number, number, number], scan: at < 3 ? ([at, 1, 0] as [number, number, number]) : null }));
    const pairs = pairsOf(known);
    expect(pairs.map((pair) => pair.name)).toEqual(["A1", "A2", "B1"]);
    expect(wants(pairs, 1, null)).toBeNull();
    expect(wants(pairs.slice(1), 1, null)).toBe("Show the same points in both: 2 of 3.");
    expect(wants(pairs, null, { a: [0, 0, 0], b: [1, 0, 0], long: null })).toMatch(/one length/);
    expect(wants(pairs, null, { a: [0, 0, 0], b: [1, 0, 0], long: 0.8 })).toBeNull();
  });
});

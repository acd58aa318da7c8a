import { describe, expect, it } from "vitest";
import { fit, shownWidth, turned } from "./stretch";

describe("a stretch", () => {
  it("is never shorter than the sheet, nor without end", () => {
    expect(fit(0.4)).toBe(1);
    expect(fit(1.02)).toBe(1);
    expect(fit(1.5 * 1.5)).toBe(2.25);
    expect(fit(99)).toBe(6);
    expect(fit(Number.NaN)).toBe(1);
  });

  it("follows the wheel both ways alike, and a pinch more closely", () => {
    const wheel = (deltaY: number, ctrlKey = false) => turned({ deltaY, deltaMode: 0, ctrlKey });
    expect(wheel(-100)).toBeGreaterThan(1);
    expect(wheel(-100) * wheel(100)).toBeCloseTo(1);
    expect(wheel(-10, true)).toBeGreaterThan(wheel(-10));
    expect(turned({ deltaY: 3, deltaMode: 1, ctrlKey: false })).toBeCloseTo(wheel(48));
  });
});

describe("the old drawing while a new one is under way", () => {
  it("is scaled to what was asked", () => {
    expect(shownWidth(1296, 1296, 1944)).toBe(1944);
    expect(shownWidth(1944, 1944, 1296)).toBe(1296);
    expect(shownWidth(1296, 1296, 1296)).toBe(1296);
  });

  it("stays where its pieces are as narrow as they may be", () => {
    expect(shownWidth(1400, 390, 585)).toBe(1400);
    expect(shownWidth(1400, 390, 1560)).toBe(1560);
    expect(shownWidth(1400, 390, 390)).toBe(1400);
  });
});

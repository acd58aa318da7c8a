import { describe, expect, it } from "vitest";
import type { Tee } from "../sent";
import { leads, offOf, wideOf } from "./under";

const tee = (from: number | null, to: number | null): Tee => ({ key: "cal-out", title: "F G calorifier", from, to });

describe("a branch under the main loop", () => {
  it("is as wide as its tees lie apart, but no narrower than can be read", () => {
    expect(wideOf(tee(200, 1000), 1296)).toBe(964);
    expect(wideOf(tee(1000, 200), 1296)).toBe(964);
    expect(wideOf(tee(200, 260), 1296)).toBe(480);
    expect(wideOf(tee(null, null), 1296)).toBe(480);
    expect(wideOf(tee(100, 1290), 1296)).toBe(1296);
  });

  it("begins under its tee where there is room", () => {
    expect(offOf(tee(200, 1000), { width: 964, begins: 92 }, 1296)).toBe(108);
    expect(offOf(tee(1100, 1200), { width: 480, begins: 92 }, 1296)).toBe(816);
    expect(offOf(tee(20, 300), { width: 480, begins: 92 }, 1296)).toBe(0);
    expect(offOf(tee(null, null), { width: 2000, begins: 92 }, 1296)).toBe(0);
  });

  it("is joined to them by lines, where it has them", () => {
    expect(leads(tee(200, 1000), [92, 892], 108, 14)).toBe("M200 0L200 14M1000 0L1000 14");
    expect(leads(tee(200, null), [92, 400], 0, 14)).toBe("M200 0L92 14");
    expect(leads(tee(null, null), [92, 400], 0, 14)).toBe("");
  });
});

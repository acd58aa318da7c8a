import { describe, expect, it } from "vitest";
import { standsOn, stepped } from "./bar";

describe("a joint of a branch", () => {
  it("is known by the letter of its run", () => {
    const tee = { key: "heat-out", title: "D E AB calorifier, heater", from: 3, to: 9 };
    expect(standsOn(tee, "D1")).toBe(true);
    expect(standsOn(tee, "AB12")).toBe(true);
    expect(standsOn(tee, "A1")).toBe(false);
    expect(standsOn(tee, "calorifier")).toBe(false);
  });
});

describe("a step of heel or trim", () => {
  it("goes by whole steps, through nought, and no farther than its end", () => {
    expect(stepped(0, 1, 30)).toBe(1);
    expect(stepped(1, -1, 30)).toBe(0);
    expect(stepped(0, -0.5, 5)).toBe(-0.5);
    expect(stepped(30, 1, 30)).toBe(30);
    expect(stepped(-5, -0.5, 5)).toBe(-5);
  });
});

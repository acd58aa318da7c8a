import { expect, test } from "vitest";

import { clock, parted, readPressed } from "./home";

test("the clock counts minutes, and hours once there are any", () => {
  expect([0, 9_999, 130_000, 3_600_000, -5].map(clock)).toEqual(["00:00", "00:09", "02:10", "1:00:00", "00:00"]);
});

test("a symptom survives a reload, and nonsense is none", () => {
  expect(readPressed('{"sign":"Steam","at":5}')).toEqual({ sign: "Steam", at: 5 });
  expect(readPressed("nonsense")).toBeNull();
  expect(readPressed('{"sign":1,"at":5}')).toBeNull();
  expect(readPressed(null)).toBeNull();
});

test("the first sentence is set large, a question together with its answer", () => {
  expect(parted("Engine off. All out. Wait.")).toEqual({ first: "Engine off.", rest: "All out. Wait." });
  expect(parted("Water at the exhaust? No: stop. Yes: idle, out of gear.")).toEqual({
    first: "Water at the exhaust? No: stop.",
    rest: "Yes: idle, out of gear.",
  });
  expect(parted("The coolant is gone")).toEqual({ first: "The coolant is gone", rest: "" });
  expect(parted("Shut it at 1.5 bar. Go.")).toEqual({ first: "Shut it at 1.5 bar.", rest: "Go." });
});

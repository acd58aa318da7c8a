import { expect, it } from "vitest";
import { Pace } from "./pace";

const pace = () => new Pace({} as WebGL2RenderingContext);

it("leaves out more of a turn while its pictures take long, and begins the next one better", () => {
  const own = pace();
  expect(own.haste()).toEqual({ ratio: 1, fine: true });
  own.took(90, true);
  expect(own.haste()).toEqual({ ratio: 1, fine: false });
  own.took(40, true);
  expect(own.haste()).toEqual({ ratio: 1, fine: false });
  [90, 90, 90, 90].forEach((long) => own.took(long, true));
  expect(own.haste()).toEqual({ ratio: 0.5, fine: false });
  own.took(150, false);
  expect(own.haste()).toEqual({ ratio: 0.75, fine: false });
});

it("waits by what pictures cost, so long only that the fine one still comes within 300 ms", () => {
  const own = pace();
  expect(own.rest()).toBe(120);
  own.took(90, true);
  expect(own.rest()).toBe(225);
  own.took(130, false);
  expect(own.rest()).toBe(170);
  own.took(250, false);
  expect(own.rest()).toBe(120);
});

it("draws one pixel for one where fine pictures are heavy twice, but for the first that makes all ready", () => {
  const own = pace();
  [900, 250].forEach((long) => own.took(long, false));
  expect(own.slow()).toBe(false);
  own.took(250, false);
  expect(own.slow()).toBe(true);
  own.took(100, false);
  expect(own.slow()).toBe(true);
  own.took(20, false);
  expect(own.slow()).toBe(false);
});

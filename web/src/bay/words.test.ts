import { expect, it } from "vitest";
import { looking } from "./camera";
import { bowOf, orientation, portOf, standing } from "./words";

const AXES = { x: "forward", y: "to port" };

it("says where bow and port lie from the six sides", () => {
  expect(orientation(looking([0, 1, 0], [0, 0, 1]), AXES)).toBe("bow to the right, port away");
  expect(orientation(looking([0, -1, 0], [0, 0, 1]), AXES)).toBe("bow to the left, port towards you");
  expect(orientation(looking([1, 0, 0], [0, 0, 1]), AXES)).toBe("bow away, port to the left");
  expect(orientation(looking([-1, 0, 0], [0, 0, 1]), AXES)).toBe("bow towards you, port to the right");
  expect(orientation(looking([0, 0, -1], [0, 1, 0]), AXES)).toBe("bow to the right, port up");
});

it("names two sides where a thing lies between them", () => {
  expect(orientation(looking([1, 1, 0], [0, 0, 1]), AXES)).toMatch(/^bow (away and to the right|to the right and away), /);
});

it("reads the axes whichever way they point", () => {
  expect(bowOf({ x: "aft", y: "to starboard" })).toEqual([-1, 0, 0].map((one) => expect.closeTo(one)));
  expect(portOf({ x: "aft", y: "to starboard" })).toEqual([0, -1, 0].map((one) => expect.closeTo(one)));
  expect(bowOf({ x: "to starboard", y: "forward" })).toEqual([0, 1, 0]);
  expect(portOf({ x: "to starboard", y: "forward" })).toEqual([-1, 0, 0].map((one) => expect.closeTo(one)));
});

it("says where one stands after a turn by hand", () => {
  expect(standing({ way: [0, 0, -1] }, AXES)).toBe("from above");
  expect(standing(looking([0.7, 0.5, -0.5], [0, 0, 1]), AXES)).toBe("from aft, above and starboard");
});

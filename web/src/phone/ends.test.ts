import { expect, test } from "vitest";

import { firstOpen, nextOpen, padOf, sharedPlaces, way, wordsOf, type Box, type Stations } from "./ends";

const box = (place: string, more: Partial<Box> = {}): Box => ({
  place,
  name: "od",
  says: "Outside diameter.",
  entry: "length",
  instrument: "caliper",
  holds: "nothing",
  text: null,
  picture: "outside",
  ...more,
});
const survey: Stations = {
  stations: [
    { path: "engine", title: "engine", ends: [{ part: "spigot out", mark: "A1", boxes: [box("a", { holds: "value", text: "41.8 mm" }), box("b")] }, { part: "empty", mark: null, boxes: [] }] },
    { path: "runs.hot", title: "hot", ends: [{ part: "", mark: null, boxes: [box("c"), box("d")] }] },
  ],
};

test("the way goes from end to end, in the order of the boat", () => {
  const { asks, ends } = way(survey);
  expect(ends).toBe(2);
  expect(asks.map((ask) => [ask.box.place, ask.mark, ask.end])).toEqual([
    ["a", "A1", 1],
    ["b", "A1", 1],
    ["c", "", 2],
    ["d", "", 2],
  ]);
});

test("the next open box passes over what holds a value or is kept, and goes round", () => {
  const { asks } = way(survey);
  expect(nextOpen(asks, -1, new Set())).toBe(1);
  expect(nextOpen(asks, 1, new Set(["c"]))).toBe(3);
  expect(nextOpen(asks, 3, new Set())).toBe(1);
  expect(nextOpen(asks, 1, new Set(), new Set(["c", "d"]))).toBe(1);
  expect(nextOpen(asks, 1, new Set(["b", "c", "d"]))).toBe(-1);
  expect(nextOpen([], 0, new Set())).toBe(-1);
});

test("a box is answered by the pad that fits it", () => {
  expect(padOf(box("a"))).toBe("length");
  expect(padOf(box("a", { name: "low_at", instrument: "water tube" }))).toBe("height");
  expect(padOf(box("a", { entry: "pressure-at-temperature" }))).toBe("pressure-at-temperature");
  expect(padOf(box("a", { entry: "text" }))).toBe("words");
  expect(padOf(box("a", { entry: "text" }), ["L"])).toBe("quantity");
});

test("words of the boat file stand as keys where there are few", () => {
  expect(wordsOf(box("a", { name: "form", entry: "text" }))).toEqual(["plain", "beaded", "barbed"]);
  expect(wordsOf(box("a", { name: "metal", picture: "material" }))).toContain("cast iron");
  expect(wordsOf(box("a", { name: "found", picture: "other" }))).toEqual([]);
});

test("boxes that share one written line are left to the desk", () => {
  const shelf: Stations = {
    stations: [
      ...survey.stations,
      { path: "stock.hose", title: "shelf", ends: [{ part: "hose 16", mark: null, boxes: [box("stock.hose"), box("stock.hose", { name: "works" })] }] },
    ],
  };
  expect([...sharedPlaces(shelf)]).toEqual(["stock.hose"]);
  expect(way(shelf).asks.map((ask) => ask.box.place)).toEqual(["a", "b", "c", "d"]);
  expect(way(shelf)).toMatchObject({ ends: 2, atDesk: 2 });
});

test("the survey begins at the open box that settles the most", () => {
  const { asks } = way(survey);
  expect(firstOpen(asks, ["stock.hose", "a", "d", "b"], new Set())).toBe(3);
  expect(firstOpen(asks, ["d"], new Set(["d"]))).toBe(1);
  expect(firstOpen(asks, [], new Set(["b"]))).toBe(2);
  expect(firstOpen(asks, ["d"], new Set(["b", "c", "d"]))).toBe(-1);
});

test("two readings are settled at the desk, and no box of the way", () => {
  const { asks } = way({ stations: [{ path: "x", title: "x", ends: [{ part: "", mark: null, boxes: [box("two", { holds: "two-readings" }), box("free")] }] }] });
  expect(nextOpen(asks, -1, new Set())).toBe(1);
});

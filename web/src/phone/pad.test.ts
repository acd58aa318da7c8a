import { expect, test } from "vitest";

import { begin, deadWhy, isEmpty, keyWord, live, press, shown, spokenOf, textOf, wanting, withUnit, type Pad, type PadKey, type PadKind } from "./pad";

function pressed(kind: PadKind, unit: string, ...keys: PadKey[]): Pad {
  return keys.reduce(press, begin(kind, unit));
}

test("a decimal is written with its unit", () => {
  const pad = pressed("length", "mm", "4", "1", ".", "8");
  expect(textOf(pad)).toBe("41.8 mm");
  expect(spokenOf(pad)).toBe("41.8 millimetres");
  expect(wanting(pad)).toBeNull();
});

test("a point comes once, after a nought where nothing stands before it", () => {
  const pad = pressed("length", "mm", ".", ".", "5");
  expect(textOf(pad)).toBe("0.5 mm");
});

test("a value that ends in its point is not whole", () => {
  expect(wanting(pressed("length", "mm", "4", "."))).toBe("Nothing stands after the point.");
});

test("an inch and its fraction take one stroke between each two numbers", () => {
  const pad = pressed("length", "in", "1", "/", "5", "/", "8");
  expect(textOf(pad)).toBe("1 5/8 in");
  expect(shown(pad).fraction).toEqual({ whole: "1", over: "5", under: "8" });
  expect(wanting(pad)).toBeNull();
});

test("a fraction alone is pressed as it is read", () => {
  expect(textOf(pressed("length", "in", "1", "5", "/", "1", "6"))).toBe("15/16 in");
  expect(spokenOf(pressed("length", "in", "5", "/", "8"))).toBe("5/8 inch");
});

test("15/8 is not taken for 1 5/8, nor for 1 7/8", () => {
  const pad = pressed("length", "in", "1", "5", "/", "8");
  expect(wanting(pad)).toBe("15/8 is 1 or more. For 1 5/8 press 1, gap, 5 / 8.");
});

test("strokes are those of a tape", () => {
  expect(wanting(pressed("length", "in", "2", "/", "3"))).toContain("no strokes of 1/3");
  expect(wanting(pressed("length", "in", "1", "/", "5", "/"))).toBe("The fraction is not whole yet.");
  expect(wanting(pressed("length", "in", "0", "/", "8"))).toBe("Nothing stands over the stroke.");
});

test("strokes and points exclude each other, and millimetres have no strokes", () => {
  expect(live(pressed("length", "in", "1", ".", "6"), "/")).toBe(false);
  expect(live(pressed("length", "in", "1", "/"), ".")).toBe(false);
  const strokes = pressed("length", "mm", "1", "7", "/", "1", "6");
  expect(wanting(strokes)).toContain("Only inches have fractions");
  expect(strokes.first.parts).toEqual(["17", "16"]);
  expect(textOf(pressed("length", "in", "1", ".", "6", "5"))).toBe("1.65 in");
});

test("rub out takes one key back at a time, down to nothing", () => {
  let pad = pressed("length", "in", "1", "/", "5", "/", "8");
  const texts: string[] = [];
  while (!isEmpty(pad)) {
    pad = press(pad, "rub out");
    texts.push(pad.first.parts.join("/"));
  }
  expect(texts).toEqual(["1/5/", "1/5", "1/", "1", ""]);
  expect(press(pad, "rub out")).toEqual(pad);
});

test("a height lies above or below the waterline", () => {
  const pad = pressed("height", "mm", "4", "1", "0", "sign");
  expect(textOf(pad)).toBe("-410 mm");
  expect(shown(pad).number).toBe("−410");
  expect(spokenOf(pad)).toBe("minus 410 millimetres");
  expect(textOf(press(pad, "sign"))).toBe("410 mm");
  expect(textOf(pressed("height", "in", "sign", "1", "6", "/", "1", "/", "8"))).toBe("-16 1/8 in");
});

test("a pressure at a temperature is two numbers", () => {
  const first = pressed("pressure-at-temperature", "bar", "3");
  expect(wanting(first)).toBe("Its temperature is still wanted: press @.");
  const pad = ["at", "1", "0", "0"].reduce((pad, key) => press(pad, key as PadKey), first);
  expect(textOf(pad)).toBe("3 bar @ 100 °C");
  expect(wanting(pad)).toBeNull();
  expect(textOf(withUnit(pad, "°F"))).toBe("3 bar @ 100 °F");
});

test("another unit keeps what was pressed, and a fraction as millimetres is refused", () => {
  expect(textOf(withUnit(pressed("length", "mm", "2", "4"), "in"))).toBe("24 in");
  const fraction = withUnit(pressed("length", "in", "1", "gap", "5", "/", "8"), "mm");
  expect(isEmpty(fraction)).toBe(false);
  expect(wanting(fraction)).toContain("press inch");
  expect(textOf(withUnit(fraction, "in"))).toBe("1 5/8 in");
});

test("a whole and a fraction are pressed as they are read, with a gap between", () => {
  const pad = pressed("length", "in", "1", "gap", "1", "/", "1", "6");
  expect(textOf(pad)).toBe("1 1/16 in");
  expect(wanting(pad)).toBeNull();
  expect(shown(pressed("length", "in", "1", "gap")).fraction).toEqual({ whole: "1", over: "", under: "" });
  expect(wanting(pressed("length", "in", "1", "gap", "5"))).toContain("not whole yet");
  let back = pad;
  const texts: string[] = [];
  for (let step = 0; step < 5; step += 1) {
    back = press(back, "rub out");
    texts.push(textOf(back));
  }
  expect(texts).toEqual(["1 1/1 in", "1 1/ in", "1 1 in", "1  in", "1 in"]);
  // With the gap gone it is a whole number again, and may become a fraction alone.
  expect(textOf(press(press(back, "/"), "8"))).toBe("1/8 in");
});

test("a key that does nothing says why", () => {
  expect(deadWhy(pressed("length", "mm", "1"), "gap")).toContain("press inch first");
  expect(deadWhy(pressed("length", "in", "1", "gap", "5", "/"), ".")).toBe("A fraction takes no point.");
  expect(deadWhy(pressed("length", "in", "1", ".", "5"), "/")).toBe("After a point comes no fraction.");
  expect(deadWhy(pressed("length", "mm", ..."1234567".split("").map((key) => key as PadKey)), "8")).toContain("7 digits");
  expect(deadWhy(pressed("length", "mm", "1"), "2")).toBeNull();
});

test("a bare number has no unit, and another quantity the units that it is told", () => {
  expect(textOf(pressed("number", "", "5", "0"))).toBe("50");
  const litres = begin("quantity", undefined, ["L", "US gal"]);
  expect(textOf(press(litres, "3"))).toBe("3 L");
  expect(textOf(withUnit(press(litres, "3"), "US gal"))).toBe("3 US gal");
});

test("how sure a person is stands between the number and its unit", () => {
  expect(textOf({ ...pressed("length", "mm", "4", "2"), sure: "0.5" })).toBe("42 ± 0.5 mm");
});

test("numbers end", () => {
  const pad = pressed("length", "mm", ..."123456789".split("").map((key) => key as PadKey));
  expect(textOf(pad)).toBe("1234567 mm");
});

test("a leading nought is written over", () => {
  expect(textOf(pressed("length", "mm", "0", "4"))).toBe("4 mm");
});

test("keys are called by words, digits as they are seen", () => {
  expect((["7", "rub out", "/"] as PadKey[]).map(keyWord)).toEqual(["7", "rub out", "stroke of a fraction"]);
});

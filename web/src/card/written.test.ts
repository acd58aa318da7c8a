import { describe, expect, it } from "vitest";
import { split, written } from "./written";

const UNITS = ["mm", "cm", "m", "in", "ft"];
const INSTRUMENTS = ["caliper", "tape", "girth", "water tube", "guessed"];
const fields = (number: string, unit = "mm", plusMinus = "", instrument = "") => ({
  number,
  unit,
  plusMinus,
  instrument,
});

describe("the text for the program", () => {
  it("never sends a bare number where a unit stands beside it", () => {
    expect(written(fields("41.8"))).toBe("41.8 mm");
    expect(written(fields("41 to 43"))).toBe("41 to 43 mm");
    expect(written(fields("1 5/8", "in"))).toBe("1 5/8 in");
  });

  it("lets a typed unit beat the one that stands there", () => {
    expect(written(fields("1.65 in"))).toBe("1.65 in");
    expect(written(fields('1-5/8"'))).toBe('1-5/8"');
    expect(written(fields("62kW", "hp"))).toBe("62kW");
  });

  it("takes a tolerance from its field, or as it is typed", () => {
    expect(written(fields("41.8", "mm", "0.2"))).toBe("41.8 ± 0.2 mm");
    expect(written(fields("41.8 +- .2", "mm", "0.5"))).toBe("41.8 ± .2 mm");
  });

  it("names the instrument, and marks a girth", () => {
    expect(written(fields("41.8", "mm", "", "tape"))).toBe("41.8 mm tape");
    expect(written(fields("131.9", "mm", "1", "girth"))).toBe("131.9 ± 1 mm / pi");
    expect(written(fields("131.9 mm / pi", "mm", "", "girth"))).toBe("131.9 mm / pi");
  });

  it("sends what is not known, or is to be chosen, as it is", () => {
    expect(written(fields("?"))).toBe("?");
    expect(written(fields("choose", "mm", "1", "tape"))).toBe("choose");
    expect(written(fields("  "))).toBe("");
  });

  it("puts the unit to a guess that is typed as one", () => {
    expect(written(fields("about 42"))).toBe("about 42 mm");
  });
});

describe("a text of the file in fields", () => {
  it("comes apart", () => {
    expect(split("41.8 ± 0.2 mm caliper", UNITS, INSTRUMENTS)).toEqual(fields("41.8", "mm", "0.2", "caliper"));
    expect(split("1 5/8 in", UNITS, INSTRUMENTS)).toEqual(fields("1 5/8", "in"));
    expect(split("38.1 ± 0.1", UNITS, INSTRUMENTS)).toEqual(fields("38.1", "", "0.1"));
    expect(split("131.9 ± 1 mm / pi", UNITS, INSTRUMENTS)).toEqual(fields("131.9", "mm", "1", "girth"));
    expect(split("-410 mm water tube", UNITS, INSTRUMENTS)).toEqual(fields("-410", "mm", "", "water tube"));
  });

  it("stays whole where it is not understood", () => {
    for (const text of ["41 to 43 mm", "38 kW @ 2600 rpm", "?", "about 42 mm"]) {
      expect(split(text, UNITS, INSTRUMENTS)).toEqual(fields(text, ""));
    }
  });

  it("comes together again as it was", () => {
    for (const text of ["41.8 ± 0.2 mm tape", "1 5/8 in", "-410 mm", "131.9 mm / pi", "41 to 43 mm", "38 kW @ 2600 rpm"]) {
      expect(written(split(text, UNITS, INSTRUMENTS))).toBe(text);
    }
  });
});

import { describe, expect, it } from "vitest";
import { lookOf, parts, type Part } from "./words";

const whole = (part: Part) =>
  part.kind === "text"
    ? part.text
    : part.kind === "symbol"
      ? `${part.letter}_${part.foot}`
      : part.kind === "number"
      ? `${part.number} ${part.unit}`
      : `${part.whole === "" ? "" : `${part.whole} `}${part.top}/${part.bottom}`;

describe("parts of a text", () => {
  it("holds a number to its unit", () => {
    expect(parts("there are 22 mm.")).toEqual([
      { kind: "text", text: "there are " },
      { kind: "number", number: "22", unit: "mm" },
      { kind: "text", text: "." },
    ]);
  });

  it("takes value and tolerance as one number", () => {
    expect(parts("41.8 ± 0.2 mm")).toEqual([{ kind: "number", number: "41.8 ± 0.2", unit: "mm" }]);
  });

  it("sets fractions of an inch, with their whole inches", () => {
    expect(parts("1 5/8 in")).toEqual([
      { kind: "fraction", whole: "1", top: "5", bottom: "8" },
      { kind: "text", text: " in" },
    ]);
    expect(parts("5/16 in")[0]).toEqual({ kind: "fraction", whole: "", top: "5", bottom: "16" });
  });

  it("leaves a count, a date and a model alone", () => {
    for (const text of ["under 1 in 100", "2025/04/11", "worm 32-50 316", "3/7 of it"]) {
      expect(parts(text)).toEqual([{ kind: "text", text }]);
    }
  });

  it("does not take the first letters of a word for a unit", () => {
    expect(parts("2 metres and 3 inches")).toEqual([{ kind: "text", text: "2 metres and 3 inches" }]);
  });

  it("sets the foot of a symbol, and leaves a key of the file alone", () => {
    expect(parts("d_s² of behind_bead")).toEqual([
      { kind: "symbol", letter: "d", foot: "s" },
      { kind: "text", text: "² of behind_bead" },
    ]);
  });

  it("loses nothing", () => {
    for (const text of ["−410 mm to 1 1/2 in at 62 L/min", "", "62 kW", "= √(d_s² + 48.4² mm²)"]) {
      expect(parts(text).map(whole).join("")).toBe(text);
    }
  });
});

describe("how a value looks", () => {
  it("goes by whence it comes", () => {
    expect(lookOf("assumed")).toBe("assumed");
    expect(lookOf("guessed")).toBe("guessed");
    expect(lookOf("computed")).toBe("computed");
    expect(lookOf("caliper")).toBe("measured");
    expect(lookOf("plate")).toBe("measured");
  });
});

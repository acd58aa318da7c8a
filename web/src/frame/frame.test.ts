import { describe, expect, it } from "vitest";
import type { Mark } from "../sent";
import { find } from "./find";
import { bent, inside, straight, upright } from "./leader-line";
import { formOf, frontOf, layoutOf } from "./size";

describe("the form of the sheet", () => {
  it("goes by the window", () => {
    expect(layoutOf(1440, 900)).toBe("desk");
    expect(layoutOf(1180, 820)).toBe("tablet");
    expect(layoutOf(820, 1180)).toBe("upright");
    expect(layoutOf(390, 844)).toBe("phone");
    // A desk at twice the size of type, and at four times.
    expect(layoutOf(720, 450)).toBe("phone");
    expect(layoutOf(320, 225)).toBe("phone");
  });

  it("gives the strip the room that there is, unless the reader chose", () => {
    expect(formOf(null, "desk", 900, "fit")).toBe("half");
    expect(formOf(null, "desk", 759, "fit")).toBe("ribbon");
    expect(formOf(null, "tablet", 900, "fit")).toBe("ribbon");
    expect(formOf("tall", "tablet", 600, "fit")).toBe("tall");
    // What is done at sea has the room.
    expect(formOf(null, "desk", 900, "home")).toBe("ribbon");
    expect(formOf("half", "desk", 900, "home")).toBe("half");
  });

  it("lays a chapter's own sheet in front where it has one to work on", () => {
    expect(frontOf(undefined, "order")).toBe("sheet");
    expect(frontOf(undefined, "fit")).toBe("loop");
    expect(frontOf("loop", "order")).toBe("loop");
  });
});

describe("finding", () => {
  const mark = (name: string, key: string, title: string): Mark => ({
    mark: name,
    key,
    kind: "joint",
    title,
    grade: null,
    verdict: null,
    spoken: { metric: "", imperial: "" },
  });
  const marks = [mark("A10", "hot.to", "hot on cooler"), mark("A1", "hot.from", "hot on engine out"), mark("B1", "cold.from", "cold on keel-aft")];

  it("takes the mark itself before what begins so", () => {
    expect(find(marks, "a1").map((one) => one.mark)).toEqual(["A1", "A10"]);
  });
  it("takes a word of the title, or of the key", () => {
    expect(find(marks, "keel").map((one) => one.mark)).toEqual(["B1"]);
    expect(find(marks, "cold.from").map((one) => one.mark)).toEqual(["B1"]);
  });
  it("gives all for nothing, and nothing for what is not there", () => {
    expect(find(marks, " ")).toHaveLength(3);
    expect(find(marks, "gearbox")).toEqual([]);
  });
});

describe("the leader", () => {
  const field = { left: 0, top: 0, right: 100, bottom: 100 };

  it("ends at the edge of a picture where its place is off view", () => {
    const end = inside({ left: 150, top: 40, right: 160, bottom: 50 }, field);
    expect(end).toEqual({ x: 96, y: 45, off: true, clear: 0 });
    expect(inside({ left: 40, top: 40, right: 50, bottom: 50 }, field)).toEqual({ x: 45, y: 45, off: false, clear: 9 });
  });

  it("keeps clear of the mark that it points at", () => {
    const line = straight("loop", { x: 200, y: 45 }, { x: 45, y: 45, off: false, clear: 9 }, 16);
    expect(line.path).toBe("M200 45L184 45L54 45");
    expect(line.moved(-10, 5).path).toBe("M190 50L174 50L44 50");
  });

  it("runs beside the column and along the top of the strip", () => {
    const line = bent("strip", { x: 900, y: 100 }, { x: 300, y: 570, off: false, clear: 10 }, 544);
    expect(line.path).toBe("M900 100L892 100L892 538L300 538L300 560");
    expect(line.arrow).toMatch(/^M300 560L/);
  });

  it("goes straight where the column lies over or under the strip", () => {
    expect(upright("strip", 180, { x: 300, y: 230, off: false, clear: 10 }).path).toBe("M300 180L300 220");
    expect(upright("strip", 700, { x: 300, y: 500, off: false, clear: 20 }).path).toBe("M300 700L300 520");
  });
});

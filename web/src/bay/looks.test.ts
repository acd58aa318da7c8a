import { describe, expect, it } from "vitest";
import { bay } from "../../fixture/boat";
import { flat, fitted } from "./camera";
import { aim, clipOf, driverWay, firstLook, looksFor, runOf } from "./looks";
import { endOf, isFigured, named } from "./marks";
import { far, dot } from "./space";
import { signOf, waterline } from "./waterline";
import { orientation } from "./words";

const SIZE = { width: 900, height: 400 };

describe("looks", () => {
  it("begins at the hatch, or above where there is none", () => {
    expect(firstLook(bay)).toBe("hatch");
    expect(firstLook({ ...bay, hatch: null })).toBe("above");
    expect(aim({ ...bay, hatch: null }, "hatch", null)).toBeNull();
  });

  it("looks down through the hatch, but never straight down", () => {
    const way = aim(bay, "hatch", null)?.way ?? [0, 0, 0];
    expect(way[2]).toBeLessThan(-0.5);
    expect(way[2]).toBeGreaterThan(-0.9);
  });

  it("has the bow to the right from above and from starboard, as the hose sheets have", () => {
    for (const look of ["above", "starboard"] as const) {
      const to = aim(bay, look, null);
      expect(to && orientation(to, bay.axes)).toMatch(/^bow to the right/);
    }
  });

  it("holds all that it is about in the picture", () => {
    for (const look of looksFor(bay, "A2")) {
      const to = aim(bay, look, "A2");
      const view = to && fitted(to, to.points, SIZE);
      for (const point of to?.points ?? []) {
        const spot = view && flat(view, SIZE, point);
        expect(spot && spot.x >= 0 && spot.x <= SIZE.width && spot.y >= 0 && spot.y <= SIZE.height).toBe(true);
      }
    }
  });

  it("looks along the chosen hose from the chosen end", () => {
    const [from, to] = [aim(bay, "hose", "A1"), aim(bay, "hose", "A2")];
    expect(dot(from?.way ?? [0, 0, 0], to?.way ?? [0, 0, 0])).not.toBeCloseTo(1, 3);
    const clip = clipOf(bay, "A2");
    expect(clip && to?.eye && far(clip.at, to.eye)).toBeLessThan(0.3);
  });

  it("looks along the driver at its screw", () => {
    const clip = clipOf(bay, "A2");
    const way = clip && driverWay(clip);
    const handle = clip?.way[1]?.points[1];
    expect(clip?.screw && handle && way && dot(way, [clip.screw[0] - handle[0], clip.screw[1] - handle[1], clip.screw[2] - handle[2]])).toBeCloseTo(0.2, 6);
  });

  it("offers no driver where none comes to a clip", () => {
    expect(looksFor({ ...bay, clips: [] }, null)).not.toContain("driver");
    expect(looksFor({ ...bay, clips: [], runs: [] }, null)).not.toContain("hose");
  });
});

describe("marks", () => {
  it("belong to their run", () => {
    expect(runOf(bay, "A2")?.mark).toBe("A");
    expect(runOf(bay, "B")?.mark).toBe("B");
    expect(runOf(bay, "V9")).toBeUndefined();
  });

  it("give the chosen one the first rank, the others that of their grade", () => {
    const all = named(bay, { chosen: "A2", keepOuts: true });
    const rank = (id: string) => all.find((one) => one.id === id)?.rank;
    expect(rank("clip hot.to")).toBe("chosen");
    expect(rank("run cold")).toBe("unsound");
    expect(rank("clip cold.from")).toBe("unmeasured");
    expect(rank("gap cold")).toBe("figure");
  });

  it("name what must not be touched only while keep-outs are shown", () => {
    const text = (keepOuts: boolean) => named(bay, { chosen: null, keepOuts }).find((one) => one.id === "body manifold")?.text;
    expect(text(true)).toBe("manifold, hot");
    expect(text(false)).toBe("manifold");
  });

  it("leave the figures of sound runs to the table once something is chosen", () => {
    const sound = bay.runs.find((run) => run.grade === "sound");
    expect(sound && isFigured(bay, sound, null)).toBe(true);
    expect(sound && isFigured(bay, sound, "A")).toBe(false);
    expect(sound && isFigured(bay, sound, "C1")).toBe(true);
  });

  it("can be the end of what is measured", () => {
    expect(endOf(bay, "hot.to")?.name).toBe("A2");
    // A run is no place that the program knows.
    expect(endOf(bay, "hot")).toBeNull();
    expect(endOf(bay, "nothing")).toBeNull();
  });
});

it("the trace of the still water lies level at height 0, and has its sign where it is seen edge on", () => {
  waterline(bay).forEach((point) => expect(point[2]).toBe(0));
  const side = aim(bay, "starboard", null);
  const view = side && fitted(side, side.points, SIZE);
  const sign = view && signOf(bay, view, SIZE);
  expect(view && sign && sign.y).toBeCloseTo(view ? flat(view, SIZE, [0, 0, 0]).y : NaN, 6);
  const above = aim(bay, "above", null);
  expect(above && signOf(bay, fitted(above, above.points, SIZE), SIZE)).toBeNull();
});

import type { Mesh, Object3D } from "three";
import { describe, expect, it } from "vitest";
import { bay } from "../../fixture/boat";
import type { Bay, BayClip, P3 } from "./form";
import { forget, materialOf, type Look } from "./ink";
import { posed } from "./pose";
import { build, dress, type Wish } from "./scene";
import { add, along, cross, dot, far, less, unit } from "./space";

const WISH: Wish = { chosen: null, engine: "rest", keepOuts: true, drivers: true, scan: false };
const meshes = (root: Object3D): Mesh[] => {
  const out: Mesh[] = [];
  root.traverse((one) => "isMesh" in one && out.push(one as Mesh));
  return out;
};
const lookOf = (one: Mesh) => one.userData["look"] as Look;

/** A clip on a spigot that points forward, with its noon up. */
const CLIP: BayClip = {
  joint: "run.from", nth: 1, of: 1, mark: "Z1", title: "", grade: "sound", at: [0, 0, 0], axis: [1, 0, 0], noon: [0, 0, 1], radius: 0.02,
  screw: [0, 0.025, 0], clock: null, tool: null, way: [], free: [{ from: 60, to: 120 }], free_text: "2 to 4", text: "", verdicts: [],
};

describe("free room round a clip", () => {
  it("lies at the right hand of who looks at the open end: 2 to 4 o'clock to port where the spigot points forward", () => {
    const one: Bay = { ...bay, bodies: [], runs: [], clips: [CLIP] };
    const { fine } = build(one, one, { ...WISH, chosen: "Z1" });
    const fan = meshes(fine).find((mesh) => "fill" in Object(lookOf(mesh)) && (lookOf(mesh) as { fill?: string }).fill === "veil");
    const at = [...(fan?.geometry.getAttribute("position").array ?? [])];
    expect(at.length).toBeGreaterThan(9);
    at.forEach((value, i) => i % 3 === 1 && expect(value).toBeGreaterThan(0.015));
  });

  it("holds the screw, on the invented boat too", () => {
    for (const clip of bay.clips.filter((one) => one.screw)) {
      const off = less(clip.screw ?? clip.at, clip.at);
      const degrees = (Math.atan2(dot(off, cross(clip.noon, clip.axis)), dot(off, clip.noon)) * 180) / Math.PI;
      const inside = clip.free.some(({ from, to }) => (((degrees - from) % 360) + 360) % 360 <= to - from);
      expect(inside, `${clip.mark}: ${degrees}`).toBe(true);
    }
  });
});

describe("what looks alike", () => {
  it("is one thing to the graphics, and few things come fast", () => {
    const { root, fine } = build(bay, bay, WISH);
    root.remove(fine);
    const looks = meshes(root).map((one) => `${one.renderOrder} ${one.name} ${JSON.stringify(lookOf(one))}`);
    expect(new Set(looks).size).toBe(looks.length);
    expect(looks.length).toBeLessThan(25);
  });

  it("has one material, that outlives what is drawn with it", () => {
    const mode = { cut: false, hollow: false };
    const first = build(bay, bay, WISH);
    dress(first.root, mode);
    const had = new Set(meshes(first.root).map((one) => one.material));
    let gone = 0;
    had.forEach((one) => !Array.isArray(one) && one.addEventListener("dispose", () => (gone += 1)));
    first.dispose();
    const next = build(bay, bay, { ...WISH, chosen: "A" });
    dress(next.root, mode);
    expect(gone).toBe(0);
    expect(meshes(next.root).filter((one) => had.has(one.material)).length).toBeGreaterThan(15);
    expect(materialOf({ wide: 1 }, mode)).toBe(materialOf({ wide: 1 }, mode));
    forget();
    expect(gone).toBe(had.size);
  });

  it("throws nothing away and shows near faces only, unless something is cut", () => {
    const whole = materialOf({ colour: "ink" }, { cut: false, hollow: false });
    const cut = materialOf({ colour: "ink" }, { cut: true, hollow: true });
    expect([whole.defines, cut.defines]).toEqual([{}, { CUT: 1 }]);
    expect(whole.side).not.toBe(cut.side);
    expect(materialOf({ wide: 1, cut: false }, { cut: true, hollow: true }).defines).toEqual({});
  });
});

describe("the engine at the top of its movement", () => {
  const up = posed(bay, "up");
  it("has each part of a run at its own radius, on the moved line, as long as it is", () => {
    bay.runs.forEach((run, at) => {
      const [now, rest] = [up.runs[at]?.parts ?? [], run.parts];
      expect(now.map((part) => part.radius)).toEqual(rest.map((part) => part.radius));
      now.forEach((part, k) => expect(along(part.line).at(-1)).toBeCloseTo(along(rest[k]?.line ?? []).at(-1) ?? 0, 2));
      expect(far(now[0]?.line[0] ?? [0, 0, 0], run.up?.[0] ?? [9, 9, 9])).toBeLessThan(1e-9);
      now.slice(1).forEach((part, k) => expect(far(part.line[0] ?? [0, 0, 0], now[k]?.line.at(-1) ?? [9, 9, 9])).toBeLessThan(1e-9));
    });
  });

  it("moves clips with their hoses, and says nothing that is known at rest only", () => {
    const moves = bay.moves ?? [0, 0, 0];
    const [from, to] = [up.clips[0], bay.clips[0]];
    expect(far(from?.at ?? [0, 0, 0], add(to?.at ?? [0, 0, 0], moves))).toBeLessThan(0.0008);
    for (const clip of up.clips) {
      expect([clip.screw, clip.way, clip.free]).toEqual([null, [], []]);
    }
    up.runs.forEach((run) => expect([run.gap, run.bend, run.highs, run.lows]).toEqual([null, null, [], []]));
  });

  it("is the bay itself at rest, and where nothing moves", () => {
    expect(posed(bay, "rest")).toBe(bay);
    const still = { ...bay, moves: null };
    expect(posed(still, "up")).toBe(still);
  });

  it("moves the engine's bodies only", () => {
    const point = (of: Bay, name: string): P3 => of.bodies.find((body) => body.name === name)?.faces.points[0] ?? [0, 0, 0];
    expect(unit(less(point(up, "block"), point(bay, "block")))).toEqual([0, 0, 1].map((one) => expect.closeTo(one, 9)));
    expect(point(up, "tank")).toEqual(point(bay, "tank"));
  });
});

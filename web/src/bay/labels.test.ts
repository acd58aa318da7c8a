import { expect, it } from "vitest";
import { carried, MOST, setLabels, type Rank, type Wanted } from "./labels";

const ROOM = { width: 400, height: 300 };
const word = (id: string, rank: Rank, x = 200, y = 150): Wanted => ({ id, rank, x, y, width: 40, height: 16 });

const overlap = (a: { left: number; top: number; width: number; height: number }, b: typeof a) =>
  a.left < b.left + b.width && b.left < a.left + a.width && a.top < b.top + b.height && b.top < a.top + a.height;

it("sets no word over another, and none outside of the picture", () => {
  const wanted = Array.from({ length: 40 }, (_, at) => word(`w${at}`, "sound", 30 + ((at * 67) % 340), 20 + ((at * 41) % 260)));
  const set = setLabels(wanted, ROOM);
  expect(set.length).toBeGreaterThan(10);
  set.forEach((one, at) => {
    expect(one.left).toBeGreaterThanOrEqual(0);
    expect(one.left + one.width).toBeLessThanOrEqual(ROOM.width);
    set.slice(at + 1).forEach((other) => expect(overlap(one, other)).toBe(false));
  });
});

it("leaves out the sound ones first, then marginal, unmeasured, unsound, and never what is chosen", () => {
  const ranks: Rank[] = ["sound", "marginal", "unmeasured", "unsound", "chosen"];
  const wanted = ranks.map((rank) => word(rank, rank));
  const kept = (most: number) => setLabels(wanted, ROOM, most).map((one) => one.id);
  expect(kept(4)).toEqual(["chosen", "unsound", "unmeasured", "marginal"]);
  expect(kept(3)).toEqual(["chosen", "unsound", "unmeasured"]);
  expect(kept(2)).toEqual(["chosen", "unsound"]);
  expect(kept(0)).toEqual(["chosen"]);
});

it("sets at most so many", () => {
  const wanted = Array.from({ length: 60 }, (_, at) => word(`w${at}`, "note", 20 + (at % 8) * 48, 15 + Math.floor(at / 8) * 36));
  expect(setLabels(wanted, ROOM)).toHaveLength(MOST);
});

it("holds what is chosen inside the picture where its place is off view; others are left out there", () => {
  const set = setLabels([word("far", "chosen", 900, -50), word("gone", "unsound", 900, -50)], ROOM);
  expect(set.map((one) => one.id)).toEqual(["far"]);
  expect(set[0]?.left).toBe(ROOM.width - 40 - 2);
  expect(set[0]?.top).toBe(2);
});

it("stands on no mark's place", () => {
  const set = setLabels([word("a", "sound", 100, 100), word("b", "sound", 130, 100)], ROOM);
  const a = set.find((one) => one.id === "a");
  expect(a && a.left <= 130 && a.left + a.width >= 130 && a.top <= 100 && a.top + a.height >= 100).toBe(false);
});

it("go along with their places while the picture moves, and out with them", () => {
  const rested = new Map(setLabels([word("a", "sound"), word("far", "sound", 380, 20), word("pick", "chosen", 40, 40)], ROOM).map((one) => [one.id, one]));
  const set = carried([word("a", "sound", 210, 130), word("far", "sound", 420, 20), word("pick", "chosen", -50, 40), word("new", "sound")], rested, ROOM);
  expect(set.map((one) => one.id)).toEqual(["a", "pick"]);
  expect(set[0]?.left).toBeCloseTo((rested.get("a")?.left ?? 0) + 10, 9);
  expect(set[0]?.top).toBeCloseTo((rested.get("a")?.top ?? 0) - 20, 9);
  expect(set[1]?.left).toBeGreaterThanOrEqual(2);
});

import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { page } from "../state";
import { measureAnew, measureNow, putEnd, setEngine, takeEnd } from "./acts";
import { calls } from "./calls";
import { bayStore } from "./store";

const measure = vi.spyOn(calls, "measure");
const A = { key: "hot.from", name: "A1", at: [0, 0, 0] as [number, number, number] };
const POINT = { name: "a point", at: [1, 0, 0] as [number, number, number], on: "scan" as const };

beforeEach(() => {
  measure.mockReset().mockResolvedValue({ text: "412 mm", deviation: null });
  bayStore.set({ ends: [], measured: null, fault: null, engine: "rest", about: "" });
  page.set({ arrangement: "after", units: "metric" });
});
afterEach(() => page.set({ arrangement: null, units: "metric" }));

it("asks in the page's units and arrangement, marks by their keys and points by what they lie on", async () => {
  page.set({ units: "imperial" });
  takeEnd(A);
  expect(measure).not.toHaveBeenCalled();
  takeEnd(POINT);
  expect(measure.mock.calls[0]?.slice(0, 2)).toEqual([{ from: { key: "hot.from" }, to: { at: [1, 0, 0], on: "scan" }, arrangement: "after" }, "imperial"]);
  await vi.waitFor(() => expect(bayStore.get().measured?.text).toBe("412 mm"));
});

it("says what joint a picked point lies on", () => {
  takeEnd({ ...POINT, on: "body", key: "hot.from" });
  takeEnd(POINT);
  expect(measure.mock.calls[0]?.[0].from).toEqual({ at: [1, 0, 0], key: "hot.from", on: "body" });
});

it("asks again when it is told to", () => {
  takeEnd(A);
  putEnd(1, POINT);
  page.set({ units: "imperial" });
  measureNow();
  expect(measure.mock.calls.map((call) => call[1])).toEqual(["metric", "imperial"]);
});

it("forgets what was measured of another boat, change or arrangement, and with the engine elsewhere", () => {
  measureAnew("Dunlin 1 ");
  takeEnd(A);
  measureAnew("Dunlin 1 ");
  expect(bayStore.get().ends).toHaveLength(1);
  measureAnew("Dunlin 2 ");
  expect(bayStore.get().ends).toEqual([]);
  takeEnd(A);
  setEngine("up");
  expect(bayStore.get().ends).toEqual([]);
});

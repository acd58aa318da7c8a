import { expect, test, vi } from "vitest";

import { asked, begins, oneAtATime, tried, UNTRIED } from "./trial";

test("what no slider moved is not asked", () => {
  expect(tried(UNTRIED)).toBe(false);
  expect(asked(UNTRIED, "metric")).toEqual({});
  expect(asked({ sea: 28, load: 80, fouling: null }, "metric")).toEqual({ sea: "28 °C", load: 0.8 });
  expect(asked({ sea: 82, load: null, fouling: 3 }, "imperial")).toEqual({ sea: "82 °F", fouling: 3 });
});

test("sliders begin where the state stands, as the program tells it", () => {
  const own = { sea_celsius: 20, sea_fahrenheit: 68, load: 1, fouling: 2 };
  expect(begins(own, "metric")).toEqual({ sea: 20, load: 1, fouling: 2 });
  expect(begins(own, "imperial")).toEqual({ sea: 68, load: 1, fouling: 2 });
  // What is not known begins at an end of its slider, and is told as in the file all the same.
  const none = { sea_celsius: null, sea_fahrenheit: null, load: null, fouling: null };
  expect(begins(none, "imperial")).toEqual({ sea: 32, load: 100, fouling: 0 });
});

test("one trial is under way at a time, and the latest follows it", async () => {
  const answers: ((answer: string) => void)[] = [];
  const call = vi.fn((_ask: number) => new Promise<string>((resolve) => answers.push(resolve)));
  const done: string[] = [];
  const ask = oneAtATime(call, (answer) => done.push(answer), () => {});
  ask(1);
  ask(2);
  ask(3);
  expect(call.mock.calls).toEqual([[1]]);
  answers[0]?.("one");
  await vi.waitFor(() => expect(call.mock.calls).toEqual([[1], [3]]));
  expect(done).toEqual([]);
  answers[1]?.("three");
  await vi.waitFor(() => expect(done).toEqual(["three"]));
});

test("one that failed does not stop the next", async () => {
  const failed: unknown[] = [];
  const done: number[] = [];
  const ask = oneAtATime((one: number) => (one === 1 ? Promise.reject(new Error("no")) : Promise.resolve(one)), (one) => done.push(one), (why) => failed.push(why));
  ask(1);
  ask(2);
  await vi.waitFor(() => expect(done).toEqual([2]));
  expect(failed).toHaveLength(1);
});

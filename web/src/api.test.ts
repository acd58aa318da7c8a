import { describe, expect, it } from "vitest";
import { address, isOvertaken, latest } from "./api";
import { cut, wait } from "./events";
import { store } from "./store";

describe("an address", () => {
  it("asks nothing that was not said", () => {
    expect(address("/api/page", { arrangement: null, state: undefined })).toBe("/api/page");
    expect(address("/api/value", { place: 'joints."hot.from".clips' })).toBe(
      "/api/value?place=joints.%22hot.from%22.clips",
    );
  });
});

describe("the latest call", () => {
  it("wins over one that is still under way", async () => {
    const waits: (() => void)[] = [];
    const call = latest(
      (_signal: AbortSignal, answer: string) => new Promise<string>((done) => waits.push(() => done(answer))),
    );
    const first = call("old");
    const second = call("new");
    waits[1]?.();
    waits[0]?.();
    await expect(second).resolves.toBe("new");
    const fault: unknown = await first.catch((why: unknown) => why);
    expect(isOvertaken(fault)).toBe(true);
  });

  it("tells the one under way to stop", async () => {
    let told: AbortSignal | undefined;
    const call = latest((signal: AbortSignal, last: boolean) => {
      told ??= signal;
      return Promise.resolve(last);
    });
    const first = call(false).catch(() => "dropped");
    await call(true);
    expect(told?.aborted).toBe(true);
    expect(await first).toBe("dropped");
  });
});

describe("news", () => {
  it("comes in whole events, whatever the pieces it arrives in", () => {
    const one = cut('data: {"number":1}\n\nda');
    expect(one).toEqual({ events: ['{"number":1}'], rest: "da" });
    expect(cut(`${one.rest}ta: {"number":2}\r\n\r\n`)).toEqual({ events: ['{"number":2}'], rest: "" });
  });
  it("leaves out the lines that only show that it lives", () => {
    expect(cut(":\n\n: alive\n\n").events).toEqual([]);
  });
  it("is asked for again more and more seldom", () => {
    expect([0, 1, 2, 3, 9].map(wait)).toEqual([1000, 2000, 4000, 5000, 5000]);
  });
});

describe("the store", () => {
  it("tells those who follow, and only of what changed", () => {
    const own = store({ a: 1, b: 2 });
    let told = 0;
    const leave = own.follow(() => (told += 1));
    own.set({ a: 1 });
    expect(told).toBe(0);
    own.set({ a: 3 });
    expect([told, own.get()]).toEqual([1, { a: 3, b: 2 }]);
    leave();
    own.set({ b: 5 });
    expect(told).toBe(1);
  });
});

import { describe, expect, it } from "vitest";
import { address, isOvertaken, keyIn, latest } from "./api";
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

describe("a key in a fragment", () => {
  it("is read as it was written, and is none where it is broken", () => {
    expect(keyIn("#k=a%2Fb&more")).toBe("a/b");
    expect(keyIn("#k=%")).toBeNull();
    expect(keyIn("#k=")).toBeNull();
    expect(keyIn("#/fit/A2")).toBeNull();
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

import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { OPENING, SILENCE, cut, listen, type Answer, type Ear } from "./events";
import { probe, wait } from "./probe";
import type { News } from "./sent";

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

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
    expect([0, 1, 2, 3, 9].map(wait)).toEqual([1000, 2000, 5000, 5000, 5000]);
  });
});

/** A program at the other end of lines: what it says comes over, and what is given up breaks. */
class Program {
  lines: { say(text: string): void; end(): void; dropped: boolean }[] = [];
  there: "yes" | "no" | "silent" = "yes";
  readonly open = (signal: AbortSignal): Promise<Answer> => {
    if (this.there === "no") {
      return Promise.reject(new TypeError("nobody"));
    }
    if (this.there === "silent") {
      return new Promise((_, fail) => signal.addEventListener("abort", () => fail(new Error("given up"))));
    }
    let into: ReadableStreamDefaultController<Uint8Array<ArrayBuffer>> | undefined;
    const body = new ReadableStream<Uint8Array<ArrayBuffer>>({ start: (own) => void (into = own) });
    const line = {
      say: (text: string) => into?.enqueue(new TextEncoder().encode(text)),
      end: () => into?.close(),
      dropped: false,
    };
    signal.addEventListener("abort", () => {
      line.dropped = true;
      into?.error(new Error("given up"));
    });
    this.lines.push(line);
    return Promise.resolve({ ok: true, body });
  };
}

function ears(): Ear & { told: string[] } {
  const told: string[] = [];
  return {
    told,
    hear: (news: News) => void told.push(`${news.why} ${news.number}`),
    open: (again) => void told.push(again ? "open again" : "open"),
    lost: () => void told.push("lost"),
  };
}
const pass = (milliseconds: number): Promise<unknown> => vi.advanceTimersByTimeAsync(milliseconds);

describe("a line of news", () => {
  it("lives as long as it says anything, be it only that it lives", async () => {
    const program = new Program();
    const ear = ears();
    listen(ear, program.open);
    await pass(0);
    for (let at = 0; at < 20; at += 1) {
      await pass(15_000);
      program.lines[0]?.say(":\n\n");
    }
    program.lines[0]?.say('data: {"number":2,"why":"edit"}\n\n');
    await pass(SILENCE - 1);
    expect(ear.told).toEqual(["open", "edit 2"]);
    expect(program.lines.map((line) => line.dropped)).toEqual([false]);
  });

  it("is dead after 40 s of silence, and opened anew at once", async () => {
    const program = new Program();
    const ear = ears();
    listen(ear, program.open);
    await pass(SILENCE - 1);
    expect(program.lines).toHaveLength(1);
    await pass(1);
    expect(program.lines.map((line) => line.dropped)).toEqual([true, false]);
    // Nobody is called gone for it, and what was missed is asked for.
    expect(ear.told).toEqual(["open", "open again"]);
  });

  it("tells that nobody is there where a dead line can't be opened in 10 s", async () => {
    const program = new Program();
    const ear = ears();
    listen(ear, program.open);
    await pass(0);
    program.there = "silent";
    await pass(SILENCE + OPENING - 1);
    expect(ear.told).toEqual(["open"]);
    await pass(1);
    expect(ear.told).toEqual(["open", "lost"]);
    program.there = "yes";
    await pass(1000);
    expect(ear.told).toEqual(["open", "lost", "open again"]);
  });

  it("is opened again after 1, 2 and then every 5 s where the program ended", async () => {
    const program = new Program();
    const ear = ears();
    const open = vi.fn(program.open);
    listen(ear, open);
    await pass(0);
    program.there = "no";
    program.lines[0]?.end();
    await pass(999);
    expect(open).toHaveBeenCalledTimes(1);
    for (const [more, calls] of [[1, 2], [2000, 3], [5000, 4], [4999, 4], [1, 5]] as const) {
      await pass(more);
      expect(open).toHaveBeenCalledTimes(calls);
    }
    expect(new Set(ear.told.slice(1))).toEqual(new Set(["lost"]));
    program.there = "yes";
    await pass(5000);
    expect(ear.told.at(-1)).toBe("open again");
  });

  it("says nothing more once it is ended", async () => {
    const program = new Program();
    const ear = ears();
    const end = listen(ear, program.open);
    await pass(0);
    end();
    await pass(10 * SILENCE);
    expect(ear.told).toEqual(["open"]);
    expect(program.lines.map((line) => line.dropped)).toEqual([true]);
  });
});

describe("a page that got no answer", () => {
  it("asks again after 1, 2 and then every 5 s, and is back once somebody answers", async () => {
    let there = false;
    const ask = vi.fn(() => Promise.resolve(there));
    const back = vi.fn();
    const own = probe(ask, back);
    own.start();
    // Another call that fails meanwhile begins no second row of asking.
    own.start();
    for (const [more, calls] of [[999, 0], [1, 1], [1999, 1], [1, 2], [5000, 3], [5000, 4]] as const) {
      await pass(more);
      expect(ask).toHaveBeenCalledTimes(calls);
    }
    expect(back).not.toHaveBeenCalled();
    there = true;
    await pass(5000);
    expect(back).toHaveBeenCalledTimes(1);
    await pass(60_000);
    expect(ask).toHaveBeenCalledTimes(5);
    // The next time begins with the short waits.
    own.start();
    await pass(1000);
    expect(ask).toHaveBeenCalledTimes(6);
  });

  it("takes a call that breaks as no answer", async () => {
    const back = vi.fn();
    let broken = true;
    const own = probe(() => (broken ? Promise.reject(new Error("cut")) : Promise.resolve(true)), back);
    own.start();
    await pass(1000);
    broken = false;
    await pass(2000);
    expect(back).toHaveBeenCalledTimes(1);
  });

  it("is told nothing by a call that was under way when it was stopped", async () => {
    let answer: (there: boolean) => void = () => {};
    const back = vi.fn();
    const own = probe(() => new Promise((done) => (answer = done)), back);
    own.start();
    await pass(1000);
    own.stop();
    answer(true);
    await pass(60_000);
    expect(back).not.toHaveBeenCalled();
  });
});

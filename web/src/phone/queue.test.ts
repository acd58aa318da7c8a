import "fake-indexeddb/auto";

import { IDBFactory } from "fake-indexeddb";
import { beforeEach, expect, test, vi } from "vitest";

import { freshId } from "./ids";
import type { Outcome, SentEntry } from "../sent";
import { boatName, fileOf, Queue, readFile, type Answer, type Clock, type Send } from "./queue";
import { wait } from "./retry";
import { browserStore, type Kept, type Store } from "./store";

const BOAT = "Petrel (petrel/boat.toml)";

class Hands implements Clock {
  due: { milliseconds: number; act: () => void }[] = [];
  after(milliseconds: number, act: () => void): () => void {
    const own = { milliseconds, act };
    this.due.push(own);
    return () => {
      this.due = this.due.filter((other) => other !== own);
    };
  }
  fire(): number {
    const own = this.due.shift();
    if (own === undefined) throw new Error("nothing is due");
    own.act();
    return own.milliseconds;
  }
}

let store: Store;
let clock: Hands;
let count: number;

beforeEach(() => {
  store = browserStore(new IDBFactory());
  clock = new Hands();
  count = 0;
});

const id = (): string => `id-${(count += 1)}`;
const entry = (place: string, text: string): Omit<Kept, "seq" | "id" | "boat" | "refused"> => ({
  place,
  mark: "C2",
  title: "Outside, behind the bead",
  text,
  instrument: "caliper",
  note: null,
  at: "2027-03-14T09:26:00Z",
  saw: null,
});
const allKept = (entries: SentEntry[]): Answer => ({ kind: "outcomes", outcomes: entries.map(({ id }): Outcome => ({ id, kept: true, why: null, asks: false })) });
const queue = (send: Send): Queue => new Queue(store, send, BOAT, clock, id);
/** Until all that hangs on the store is done. */
const still = async (until: () => boolean): Promise<void> => vi.waitFor(() => expect(until()).toBe(true));

test("what is kept goes over in order and leaves the queue", async () => {
  const sent: string[] = [];
  const own = queue(async (entries) => {
    sent.push(...entries.map((entry) => entry.text));
    return allKept(entries);
  });
  await own.keep(entry("a", "1 mm"));
  await own.keep(entry("b", "2 mm"));
  await still(() => own.get().entries.length === 0);
  expect(sent).toEqual(["1 mm", "2 mm"]);
  expect(own.get().over).toBe(2);
});

test("keeping is done only when the store says that it is complete", async () => {
  let complete: () => void = () => {};
  const slow: Store = { ...store, add: (entry) => new Promise((resolve) => (complete = () => resolve(store.add(entry)))) };
  const own = new Queue(slow, () => Promise.reject(new Error("cut")), BOAT, clock, id);
  let kept = false;
  const keeping = own.keep(entry("a", "1 mm")).then(() => (kept = true));
  await new Promise((resolve) => setTimeout(resolve, 5));
  expect(kept).toBe(false);
  complete();
  await keeping;
  expect(kept).toBe(true);
});

test("where nothing can be kept, it says so and does not go on", async () => {
  const full: Store = { ...store, add: () => Promise.reject(new Error("The disk is full.")) };
  const own = new Queue(full, () => Promise.reject(new Error("cut")), BOAT, clock, id);
  await expect(own.keep(entry("a", "1 mm"))).rejects.toThrow("The disk is full.");
  expect(own.get().broken).toBe("The disk is full.");
});

test("a page that was killed finds its entries again and sends them", async () => {
  const cut = queue(() => Promise.reject(new Error("cut")));
  await cut.keep(entry("a", "1 mm"));
  await cut.keep(entry("b", "2 mm"));
  await still(() => cut.get().cut);
  cut.close();
  const sent: string[] = [];
  const after = queue(async (entries) => {
    sent.push(...entries.map((entry) => entry.id));
    return allKept(entries);
  });
  await after.open();
  await still(() => after.get().entries.length === 0);
  expect(sent).toEqual(["id-1", "id-2"]);
});

test("waits are 1, 2, 4, 8 and then 15 seconds, and start again on waking", async () => {
  expect([1, 2, 3, 4, 5, 6, 60].map(wait)).toEqual([1000, 2000, 4000, 8000, 15000, 15000, 15000]);
  const send = vi.fn(() => Promise.reject(new Error("cut")));
  const own = queue(send);
  await own.keep(entry("a", "1 mm"));
  const waits: number[] = [];
  for (let tries = 1; tries <= 6; tries += 1) {
    await still(() => clock.due.length === 1);
    expect(send).toHaveBeenCalledTimes(tries);
    waits.push(clock.fire());
  }
  expect(waits).toEqual([1000, 2000, 4000, 8000, 15000, 15000]);
  await still(() => clock.due.length === 1);
  own.wake();
  await still(() => clock.due.length === 1 && clock.due[0]?.milliseconds === 1000);
});

test("the same entry goes again under the same name when only the answer was lost", async () => {
  const sent: string[] = [];
  let lost = true;
  const own = queue(async (entries) => {
    sent.push(...entries.map((entry) => entry.id));
    if (lost) {
      lost = false;
      throw new Error("cut");
    }
    return allKept(entries);
  });
  await own.keep(entry("a", "1 mm"));
  await still(() => clock.due.length === 1);
  clock.fire();
  await still(() => own.get().entries.length === 0);
  expect(sent).toEqual(["id-1", "id-1"]);
});

test("a refused entry stays with its reason, and goes again once it is amended", async () => {
  const sent: SentEntry[] = [];
  const own = queue(async (entries) => {
    sent.push(...entries);
    return { kind: "outcomes", outcomes: entries.map((entry) => (entry.text === "1 mn" ? { id: entry.id, kept: false, why: "no unit is called mn", asks: false } : { id: entry.id, kept: true, why: null, asks: false })) };
  });
  await own.keep(entry("a", "1 mn"));
  await own.keep(entry("b", "2 mm"));
  await still(() => own.get().entries.length === 1 && own.get().entries[0]?.refused !== null);
  const refused = own.get().entries[0];
  expect(refused?.refused).toBe("no unit is called mn");
  expect(clock.due).toEqual([]);
  await own.amend(refused as Kept, { text: "1 mm", instrument: "tape", note: null });
  await still(() => own.get().entries.length === 0);
  const last = sent[sent.length - 1];
  expect(last).toMatchObject({ place: "a", text: "1 mm", instrument: "tape" });
  expect(last?.id).not.toBe(refused?.id);
});

test("an entry amended while it is under way is not dropped with the old one", async () => {
  let answer: () => void = () => {};
  const sent: string[] = [];
  const own = queue((entries) => {
    sent.push(...entries.map((entry) => entry.text));
    return new Promise((resolve) => (answer = () => resolve(allKept(entries))));
  });
  await own.keep(entry("a", "1 mm"));
  await still(() => sent.length === 1);
  await own.amend(own.get().entries[0] as Kept, { text: "3 mm", instrument: "caliper", note: null });
  answer();
  await still(() => sent.length === 2);
  expect(sent).toEqual(["1 mm", "3 mm"]);
  answer();
  await still(() => own.get().entries.length === 0);
});

test("what is for another boat never goes to this one", async () => {
  const other = new Queue(store, () => Promise.reject(new Error("cut")), "Other (boat.toml)", clock, id);
  await other.keep(entry("a", "9 mm"));
  other.close();
  const sent: string[] = [];
  const own = queue(async (entries) => {
    sent.push(...entries.map((entry) => entry.text));
    return allKept(entries);
  });
  await own.open();
  await own.keep(entry("b", "2 mm"));
  await still(() => own.get().entries.length === 1);
  expect(sent).toEqual(["2 mm"]);
  expect(own.get().entries[0]?.text).toBe("9 mm");
});

test("what is asked back waits, and goes as meant once somebody says so", async () => {
  const sent: SentEntry[] = [];
  const own = queue(async (entries) => {
    sent.push(...entries);
    return { kind: "outcomes", outcomes: entries.map(({ id, meant }) => (meant === true ? { id, kept: true, why: null, asks: false } : { id, kept: false, why: "1420 mm is 29 times that", asks: true })) };
  });
  await own.open();
  await own.keep(entry("engine.spigots.out.od", "1420 mm"));
  await still(() => own.get().entries.length === 1 && own.get().entries[0]?.refused !== null);
  const asked = own.get().entries[0];
  expect(asked).toMatchObject({ asks: true, refused: "1420 mm is 29 times that" });
  await own.amend(asked as Kept, { meant: true });
  await still(() => own.get().entries.length === 0);
  expect(sent.map(({ text, meant, by }) => [text, meant, by])).toEqual([
    ["1420 mm", false, "pad"],
    ["1420 mm", true, "pad"],
  ]);
});

test("a message that is refused as a whole stays and is tried again", async () => {
  const own = queue(async () => ({ kind: "refused", why: "this key is from an earlier run", key: true }));
  await own.keep(entry("a", "1 mm"));
  await still(() => own.get().oldKey);
  expect(own.get().entries).toHaveLength(1);
  expect(own.get().barred).toBe("this key is from an earlier run");
  await still(() => clock.due.length === 1);
});

test("an outcome that says nothing of an entry leaves it waiting", async () => {
  const own = queue(async () => ({ kind: "outcomes", outcomes: [] }));
  await own.keep(entry("a", "1 mm"));
  await still(() => clock.due.length === 1);
  expect(own.get().entries).toHaveLength(1);
  expect(clock.due[0]?.milliseconds).toBe(1000);
});

test("drafts live with their boat and place", async () => {
  await store.setDraft(BOAT, "a", { first: "4" });
  expect((await store.draft(BOAT, "a"))?.pad).toEqual({ first: "4" });
  expect(await store.draft("Other", "a")).toBeNull();
  await store.setDraft(BOAT, "a", null);
  expect(await store.draft(BOAT, "a")).toBeNull();
});

test("the file holds all that waits, and reads back", async () => {
  const own = queue(() => Promise.reject(new Error("cut")));
  await own.keep(entry("a", "1 mm"));
  const file = fileOf(own.get().entries, "2027-03-14T10:00:00Z");
  const back = readFile(JSON.stringify(file));
  expect(back).toEqual({
    boats: [BOAT],
    entries: [{ id: "id-1", place: "a", text: "1 mm", instrument: "caliper", note: null, at: "2027-03-14T09:26:00Z", saw: null, meant: false, by: "file" }],
  });
  expect(readFile("nonsense")).toContain("no JSON");
  expect(readFile("{}")).toContain("does not say");
  expect(readFile('{"schema":"hosewright.entries/1","entries":[{"id":"x"}]}')).toContain("not whole");
});

test("names of entries are random and need no secure context", () => {
  const names = new Set(Array.from({ length: 200 }, () => freshId()));
  expect(names.size).toBe(200);
  expect([...names].every((name) => /^[0-9a-f]{32}$/.test(name))).toBe(true);
  expect(freshId((bytes) => bytes.fill(7))).toBe("07".repeat(16));
});

test("a boat is called by its name and its file", () => {
  expect(boatName({ folder: "petrel", file: "boat.toml" })).toBe("petrel/boat.toml");
  expect(boatName(null)).toBe("");
});

test("what the desk says of an entry that it took is told", async () => {
  const own = queue(async (entries) => ({ kind: "outcomes", outcomes: entries.map(({ id }) => ({ id, kept: true, why: "Both stand there.", asks: false })) }));
  await own.keep(entry("a", "1 mm"));
  await still(() => own.get().entries.length === 0);
  expect(own.get().told).toEqual([{ what: "C2 1 mm", why: "Both stand there." }]);
});

test("closing calls off what is under way, and nothing that comes of it is taken", async () => {
  let answer: () => void = () => {};
  let called: AbortSignal | undefined;
  const own = queue((entries, signal) => {
    called = signal;
    // One that does not heed the call: its answer comes all the same.
    return new Promise((resolve) => (answer = () => resolve(allKept(entries))));
  });
  await own.keep(entry("a", "1 mm"));
  await still(() => called !== undefined);
  expect(called?.aborted).toBe(false);
  own.close();
  expect(called?.aborted).toBe(true);
  answer();
  await new Promise((resolve) => setTimeout(resolve, 20));
  expect(own.get()).toMatchObject({ over: 0, cut: false });
  expect((await store.all()).map((kept) => kept.text)).toEqual(["1 mm"]);
  // No try begins by itself, nor by what is kept or by waking.
  expect(clock.due).toEqual([]);
  called = undefined;
  own.wake();
  await own.keep(entry("b", "2 mm"));
  await new Promise((resolve) => setTimeout(resolve, 20));
  expect(called).toBeUndefined();
  expect((await store.all()).map((kept) => kept.text)).toEqual(["1 mm", "2 mm"]);
});

test("an answer of which half is written down when the queue is closed is not written further", async () => {
  const slow: Store = {
    ...store,
    drop: async (seq, id) => {
      await store.drop(seq, id);
      own.close();
    },
  };
  const own: Queue = new Queue(slow, async (entries) => allKept(entries), BOAT, clock, id);
  await store.add({ ...entry("a", "1 mm"), id: "x", boat: BOAT, refused: null });
  await store.add({ ...entry("b", "2 mm"), id: "y", boat: BOAT, refused: null });
  await own.open();
  await new Promise((resolve) => setTimeout(resolve, 50));
  expect((await store.all()).map((kept) => kept.id)).toEqual(["y"]);
  expect(own.get().over).toBe(0);
});

test("a queue that is opened again sends at once, though the try before the close never ends", async () => {
  const sent: string[] = [];
  const own = queue((entries) => {
    sent.push(...entries.map((entry) => entry.text));
    return sent.length === 1 ? new Promise(() => {}) : Promise.resolve(allKept(entries));
  });
  await own.keep(entry("a", "1 mm"));
  await still(() => sent.length === 1);
  own.close();
  await own.open();
  await still(() => own.get().entries.length === 0);
  expect(sent).toEqual(["1 mm", "1 mm"]);
});

test("a try that is called off is no cut link", async () => {
  const own = queue((_entries, signal) => new Promise((_, fail) => signal.addEventListener("abort", () => fail(new Error("called off")))));
  await own.keep(entry("a", "1 mm"));
  own.close();
  await new Promise((resolve) => setTimeout(resolve, 20));
  expect(own.get().cut).toBe(false);
  expect(clock.due).toEqual([]);
});

/** The queue between the phone and the boat's computer: kept in order, sent in order, dropped only when it is there. */

import type { Outcome, SentEntry } from "../sent";
import { freshId } from "./ids";
import { wait } from "./retry";
import type { Fresh, Kept, Store } from "./store";

/** What became of a try. */
export type Answer = { kind: "outcomes"; outcomes: Outcome[] } | { kind: "refused"; why: string; key: boolean };

/** Sends entries; rejects where there is no link, and where it is called off. */
export type Send = (entries: SentEntry[], signal: AbortSignal) => Promise<Answer>;

/** How the queue stands, for the page. */
export interface Standing {
  /** In the order of keeping. */
  entries: Kept[];
  /** Whether the last try found no link. */
  cut: boolean;
  /** Why the boat's computer would not answer at all, in its own words. */
  barred: string | null;
  /** Whether the key of this page is one of an earlier run. */
  oldKey: boolean;
  /** How many went over since the page was opened. */
  over: number;
  /** What the boat's computer said of entries that it took. */
  told: { what: string; why: string }[];
  /** Why nothing can be kept on this phone; null where all is well. */
  broken: string | null;
}

/** Timers, so that a test needs no real time. */
export interface Clock {
  after(milliseconds: number, act: () => void): () => void;
}

const browserClock: Clock = {
  after(milliseconds, act) {
    const timer = setTimeout(act, milliseconds);
    return () => clearTimeout(timer);
  },
};

/** How many go over at once; the rest follows at once after. */
const AT_ONCE = 20;

const why = (reason: unknown): string => (reason instanceof Error ? reason.message : String(reason));

export class Queue {
  private standing: Standing = { entries: [], cut: false, barred: null, oldKey: false, over: 0, told: [], broken: null };
  private readonly listeners = new Set<() => void>();
  private missed = 0;
  private flying = false;
  private stop: (() => void) | null = null;
  /** Calls off what is under way; every opening after a close has another. */
  private life = new AbortController();

  constructor(
    private readonly store: Store,
    private readonly send: Send,
    private readonly boat: string,
    private readonly clock: Clock = browserClock,
    private readonly id: () => string = freshId,
  ) {}

  readonly get = (): Standing => this.standing;

  readonly listen = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  private set(change: Partial<Standing>): void {
    this.standing = { ...this.standing, ...change };
    for (const listener of this.listeners) listener();
  }

  private async look(): Promise<void> {
    this.set({ entries: await this.store.all() });
  }

  /** Reads what an earlier page left, and begins to send it. */
  async open(): Promise<void> {
    if (this.life.signal.aborted) {
      this.life = new AbortController();
    }
    try {
      await this.look();
    } catch (reason) {
      this.set({ broken: why(reason) });
      return;
    }
    void this.try();
  }

  /** Keeps a value. Resolves when it is down on this phone; only then the page may go on. */
  async keep(entry: Omit<Fresh, "id" | "boat" | "refused">): Promise<void> {
    try {
      await this.store.add({ ...entry, id: this.id(), boat: this.boat, refused: null });
      this.set({ broken: null });
    } catch (reason) {
      this.set({ broken: why(reason) });
      throw reason;
    }
    await this.look();
    void this.try();
  }

  /**
   * Writes another text into an entry that waits or was refused. It gets a new name: were the first one over
   * already and only its answer lost, a second under the old name would be dropped as a repeat.
   */
  async amend(entry: Kept, change: Partial<Pick<Kept, "text" | "instrument" | "note" | "meant">>): Promise<void> {
    // Another text is asked back anew.
    await this.store.put({ ...entry, meant: false, ...change, id: this.id(), refused: null, asks: false });
    await this.look();
    void this.try();
  }

  /** The page woke, or the link came back: tries at once, and counts the waits from the start. */
  wake(): void {
    this.missed = 0;
    void this.try();
  }

  /**
   * Ends all waiting and calls off what is under way; entries stay. What comes of it still is not looked at: whatever
   * the boat's computer took of it, it drops as a repeat when it comes again.
   */
  close(): void {
    this.stop?.();
    this.stop = null;
    this.flying = false;
    this.life.abort();
  }

  private own(): Kept[] {
    return this.standing.entries.filter((entry) => entry.boat === this.boat && entry.refused === null);
  }

  private later(): void {
    this.stop?.();
    this.stop = this.clock.after(wait(this.missed), () => {
      this.stop = null;
      void this.try();
    });
  }

  /** One try: never two at a time, so that the order holds. */
  async try(): Promise<void> {
    const { signal } = this.life;
    if (this.flying || signal.aborted) return;
    const due = this.own().slice(0, AT_ONCE);
    if (due.length === 0) return;
    this.flying = true;
    this.stop?.();
    this.stop = null;
    const answer = await this.send(due.map(({ id, boat, place, text, instrument, note, at, saw, meant }) => ({ id, boat, place, text, instrument, note, at, saw, meant: meant === true, by: "pad" as const })), signal).catch(() => null);
    if (signal.aborted) return;
    let went = false;
    try {
      if (answer === null) {
        this.missed += 1;
        this.set({ cut: true, barred: null, oldKey: false });
      } else if (answer.kind === "refused") {
        // The whole message was not taken; it stays, and is tried again.
        this.missed += 1;
        this.set({ cut: false, barred: answer.why, oldKey: answer.key });
      } else {
        went = await this.settle(due, answer.outcomes, signal);
      }
    } catch (reason) {
      // The boat's computer has them, but this phone could not write that down: they go again under the same names.
      if (signal.aborted) return;
      this.missed += 1;
      this.set({ broken: why(reason) });
    }
    if (signal.aborted) return;
    this.flying = false;
    if (this.own().length === 0) return;
    // What was kept meanwhile goes at once where there is a link, and waits with the others where there is none.
    if (went) void this.try();
    else this.later();
  }

  /** Takes away what is there and marks what was refused; true where every entry was answered. */
  private async settle(due: Kept[], outcomes: Outcome[], signal: AbortSignal): Promise<boolean> {
    let answered = 0;
    let { over, told } = this.standing;
    for (const entry of due) {
      // Closed meanwhile: the rest goes again, and is dropped over there as a repeat.
      if (signal.aborted) return false;
      const outcome = outcomes.find((own) => own.id === entry.id);
      if (outcome === undefined) continue;
      answered += 1;
      if (outcome.kept) {
        await this.store.drop(entry.seq, entry.id);
        over += 1;
        if (outcome.why !== null) {
          const what = [entry.mark, entry.text].filter((word) => word !== "").join(" ");
          told = [...told, { what, why: outcome.why }];
        }
      } else {
        await this.store.refuse(entry.seq, entry.id, outcome.why ?? "No reason was given.", outcome.asks);
      }
    }
    const all = answered === due.length;
    const entries = await this.store.all();
    if (signal.aborted) return false;
    this.missed = all ? 0 : this.missed + 1;
    this.set({ entries, cut: false, barred: null, oldKey: false, over, told });
    return all;
  }
}

/** The file that is the way out when the boat's computer is gone. */
export interface EntriesFile {
  schema: "hosewright.entries/1";
  written: string;
  entries: (SentEntry & { boat: string; title: string })[];
}

/** What is written into that file: all that waits and all that was refused. */
export function fileOf(entries: readonly Kept[], now: string): EntriesFile {
  return {
    schema: "hosewright.entries/1",
    written: now,
    entries: entries.map(({ id, boat, place, title, text, instrument, note, at, saw, meant }) => ({ id, boat, place, title, text, instrument, note, at, saw, meant: meant === true, by: "file" })),
  };
}

/** Reads such a file; a sentence where it is none. */
export function readFile(text: string): { entries: SentEntry[]; boats: string[] } | string {
  let file: unknown;
  try {
    file = JSON.parse(text);
  } catch {
    return "This is no file of entries: it is no JSON.";
  }
  if (typeof file !== "object" || file === null || !("schema" in file) || file.schema !== "hosewright.entries/1") {
    return "This is no file of entries: it does not say hosewright.entries/1.";
  }
  const list = "entries" in file && Array.isArray(file.entries) ? (file.entries as unknown[]) : [];
  const entries: SentEntry[] = [];
  const boats = new Set<string>();
  for (const one of list) {
    if (typeof one !== "object" || one === null) return "An entry of this file is not whole.";
    const own = one as Record<string, unknown>;
    const words = (key: string): string | null => (typeof own[key] === "string" ? own[key] : null);
    const [id, place, said, at] = [words("id"), words("place"), words("text"), words("at")];
    if (id === null || place === null || said === null || at === null) return "An entry of this file is not whole.";
    boats.add(words("boat") ?? "");
    entries.push({ id, place, text: said, instrument: words("instrument"), note: words("note"), at, saw: words("saw"), meant: own["meant"] === true, by: "file" });
  }
  return { entries, boats: [...boats] };
}

/** Who a boat is, for entries: where her file stands. Its hash changes at every edit, and she may be named anew. */
export const boatName = (boat: { folder: string; file: string } | null): string => (boat === null ? "" : `${boat.folder}/${boat.file}`);

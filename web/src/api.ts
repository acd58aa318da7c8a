/**
 * How the program on this computer is asked. What it sends and reads stands in `sent.ts`.
 *
 * The page computes no physical number and words no verdict: every figure and every sentence comes
 * from the program. Numbers are SI and stand beside their texts.
 */
import type {
  BeginAsk,
  Boats,
  Card,
  Drawing,
  Edit,
  EditsAsk,
  EntriesAsk,
  Fill,
  Flow,
  KeepAsk,
  LoopAsk,
  Order,
  Outcomes,
  Page,
  Reading,
  ReadingAsk,
  SentEntry,
  SettleAsk,
  Share,
  StepAsk,
  StripAsk,
  Survey,
  Trial,
  TrialAsk,
  Units,
  Value,
  Working,
  Wrong,
} from "./sent";


/** The program refused, and says why. */
export class Refused extends Error {
  readonly status: number;
  readonly why: string;
  readonly place: Wrong["place"];
  readonly found: Wrong["found"];
  readonly expected: Wrong["expected"];

  constructor(status: number, told: Partial<Wrong>) {
    super(told.why ?? `the program answered ${status}`);
    this.name = "Refused";
    this.status = status;
    this.why = told.why ?? `the program answered ${status}`;
    this.place = told.place;
    this.found = told.found;
    this.expected = told.expected;
  }
}

/** Nobody answers: the program has stopped, or the link is cut. */
export class Gone extends Error {
  constructor() {
    super("nobody answers");
    this.name = "Gone";
  }
}

/** Whether a call was dropped because a later one took its place. */
export function isOvertaken(fault: unknown): boolean {
  return fault instanceof DOMException && fault.name === "AbortError";
}

const KEPT = "hosewright.key";

/** The key in a fragment: `#k=…`; one that is cut or broken is none. */
export function keyIn(hash: string): string | null {
  const brought = /^#k=([^&]+)/.exec(hash)?.[1];
  try {
    return brought === undefined ? null : decodeURIComponent(brought);
  } catch {
    return null;
  }
}

/**
 * The key of this run. On this computer it stands in the page; a phone brings it in the fragment,
 * which no browser sends anywhere. It moves to the session's store and out of the address.
 */
export function takeKey(): string {
  const inPage = document.querySelector<HTMLMetaElement>('meta[name="hosewright-key"]')?.content;
  if (inPage) {
    return inPage;
  }
  if (location.hash.startsWith("#k=")) {
    const brought = keyIn(location.hash);
    if (brought !== null) {
      sessionStorage.setItem(KEPT, brought);
    }
    history.replaceState(null, "", location.pathname + location.search);
  }
  return sessionStorage.getItem(KEPT) ?? "";
}

type Asked = Record<string, string | number | boolean | null | undefined>;

/** A path with its query; what is null or left out is not asked. */
export function address(path: string, asked: Asked = {}): string {
  const query = new URLSearchParams();
  for (const [name, value] of Object.entries(asked)) {
    if (value !== null && value !== undefined) {
      query.set(name, String(value));
    }
  }
  const text = query.toString();
  return text === "" ? path : `${path}?${text}`;
}

async function answerOf(path: string, how: RequestInit): Promise<Response> {
  const headers = new Headers(how.headers);
  headers.set("X-Hosewright-Key", takeKey());
  let answer: Response;
  try {
    answer = await fetch(path, { ...how, headers, credentials: "same-origin", cache: "no-store" });
  } catch (fault) {
    if (isOvertaken(fault)) {
      throw fault;
    }
    throw new Gone();
  }
  if (!answer.ok) {
    const told = (await answer.json().catch(() => ({}))) as Partial<Wrong>;
    throw new Refused(answer.status, told);
  }
  return answer;
}

export async function ask<T>(path: string, how: RequestInit): Promise<T> {
  return (await (await answerOf(path, how)).json()) as T;
}

/** What is no text. */
export async function readBytes(path: string, how: RequestInit): Promise<ArrayBuffer> {
  return (await answerOf(path, how)).arrayBuffer();
}

function get<T>(path: string, asked: Asked = {}, signal?: AbortSignal): Promise<T> {
  return ask<T>(address(path, asked), signal ? { signal } : {});
}

export function post<B, T>(path: string, body: B, signal?: AbortSignal): Promise<T> {
  const how: RequestInit = {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify(body),
  };
  return ask<T>(path, signal ? { ...how, signal } : how);
}

/**
 * The latest call wins: a new one drops the one under way, whose promise then fails with an
 * AbortError (see `isOvertaken`).
 */
export function latest<A extends unknown[], T>(
  call: (signal: AbortSignal, ...args: A) => Promise<T>,
): (...args: A) => Promise<T> {
  let under: AbortController | null = null;
  return async (...args) => {
    under?.abort();
    const mine = new AbortController();
    under = mine;
    try {
      const answer = await call(mine.signal, ...args);
      // An answer that was read just before it was overtaken is an old one too.
      mine.signal.throwIfAborted();
      return answer;
    } finally {
      if (under === mine) {
        under = null;
      }
    }
  };
}

/** The answer that stands on the sheet, only what differs from it is sent; and the mark that is chosen, of which is told first. */
export type HeldPage = Pick<Page, "arrangement" | "number" | "settled"> & { chosen?: string | null };

/** The path of a call that writes, and answers with the page. */
function about(path: string, held: HeldPage): string {
  const { arrangement, number, settled, chosen } = held;
  return address(path, { arrangement, held: number, settled, chosen });
}

export const api = {
  page: (arrangement: string | null, signal?: AbortSignal) =>
    get<Page>("/api/page", { arrangement }, signal),
  strip: (asked: StripAsk, signal?: AbortSignal) =>
    get<Drawing>("/api/strip", { ...asked }, signal),
  working: (arrangement: string | null, id: string, signal?: AbortSignal) =>
    get<Working>("/api/working", { arrangement, id }, signal),
  loop: (asked: LoopAsk, signal?: AbortSignal) => get<Drawing>("/api/loop", { ...asked }, signal),
  edit: (number: number, label: string, edits: Edit[], held: HeldPage) =>
    post<EditsAsk, Page>(about("/api/edits", held), { number, label, edits }),
  back: (number: number, held: HeldPage) =>
    post<StepAsk, Page>(about("/api/back", held), { number }),
  forth: (number: number, held: HeldPage) =>
    post<StepAsk, Page>(about("/api/forth", held), { number }),
  reading: (place: string, text: string, units: Units, signal?: AbortSignal) =>
    post<ReadingAsk, Reading>("/api/reading", { place, text, units }, signal),
  value: (place: string, signal?: AbortSignal) => get<Value>("/api/value", { place }, signal),
  trial: (asked: TrialAsk, signal?: AbortSignal) => post<TrialAsk, Trial>("/api/trial", asked, signal),
  keep: (number: number, asked: Omit<KeepAsk, "number">, held: HeldPage) =>
    post<KeepAsk, Page>(about("/api/keep", held), { number, ...asked }),
  survey: (arrangement: string | null, signal?: AbortSignal) =>
    get<Survey>("/api/survey", { arrangement }, signal),
  flow: (arrangement: string | null, signal?: AbortSignal) =>
    get<Flow>("/api/flow", { arrangement }, signal),
  order: (arrangement: string | null, signal?: AbortSignal) =>
    get<Order>("/api/order", { arrangement }, signal),
  fill: (arrangement: string | null, signal?: AbortSignal) =>
    get<Fill>("/api/fill", { arrangement }, signal),
  card: (arrangement: string | null, signal?: AbortSignal) =>
    get<Card>("/api/card", { arrangement }, signal),
  entries: (entries: SentEntry[], signal?: AbortSignal) =>
    post<EntriesAsk, Outcomes>("/api/entries", { entries }, signal),
  settle: (number: number, place: string, keep: string, held: HeldPage) =>
    post<SettleAsk, Page>(about("/api/settle", held), { number, place, keep }),
  boats: (signal?: AbortSignal) => get<Boats>("/api/boats", {}, signal),
  begin: (start: BeginAsk) => post<BeginAsk, Page>("/api/boats", start),
  share: (signal?: AbortSignal) => get<Share>("/api/share", {}, signal),
  newKey: () => post<object, Share>("/api/share/key", {}),
  endSharing: () => post<object, Share>("/api/share/end", {}),
};

/** The first page, which came inside the document; null where it did not. */
export function firstPage(): Page | null {
  const text = document.getElementById("first")?.textContent?.trim();
  return text ? (JSON.parse(text) as Page) : null;
}

/**
 * What the program on this computer answers, and how it is asked.
 *
 * The page computes no physical number and words no verdict: every figure and every sentence in
 * here comes from the program. Numbers are SI and stand beside their texts.
 */

/** A sentence or number in both systems of units. */
export interface Text {
  metric: string;
  imperial: string;
}
export type Units = keyof Text;

export type Grade = "sound" | "marginal" | "unsound" | "unmeasured";
export type Basis = "rule" | "practice" | "physics";

/** A value of the boat file. */
export interface Place {
  line: number;
  column: number;
  path: string;
}
export interface Margin {
  value: number;
  deviation?: number;
  low?: number;
  high?: number;
  unit: string;
  kind: string;
}
/** One way to carry a remedy out; `from` and `to` are TOML. */
export interface RemedyEdit {
  place: Place;
  from: string;
  to: string;
  label: string;
}
export interface Settles {
  place: Place;
  how: string;
}
export interface WorkingInput {
  symbol: string;
  name: string;
  value: number;
  unit: string;
  kind: string;
  tolerance?: number;
  from: string;
  text: Text;
  tolerance_text?: Text;
  place?: Place;
}
export interface WorkingStep {
  formula: string;
  filled: Text;
  result: Text;
}
export interface Working {
  inputs: WorkingInput[];
  steps: WorkingStep[];
  limit: Text;
  sources: string[];
}
export interface Verdict {
  id: string;
  stage: string;
  subject: string;
  title: string;
  grade: Grade;
  because: Text;
  remedy: Text;
  chance?: number;
  basis: Basis;
  caution?: string;
  place?: Place;
  margin?: Margin;
  as_of: number;
  remedy_edits: RemedyEdit[];
  settles?: Settles;
  spoken: Text;
  working: Working;
}
/** The margin line; `at` gives every place as a share of the drawn line. */
export interface MarginLine {
  value: Text;
  plus_minus: Text | null;
  low: Text | null;
  high: Text | null;
  at: { value: number; from: number; to: number; low: number | null; high: number | null };
}
/** `working` is empty where the verdict is sound: it is sent when it is asked for. */
export interface PageVerdict extends Verdict {
  chapter: string;
  mark: string | null;
  key: string | null;
  on_line: MarginLine | null;
}
export interface Remark {
  code: string;
  severity: "stop" | "check" | "note";
  message: string;
  expected: string | null;
  found: string;
  place: Place;
}
export interface Act {
  label: string;
  chapter: string;
  mark: string | null;
  verdict: string | null;
  edit: RemedyEdit | null;
  place: Place | null;
}
export interface Chapter {
  key: string;
  title: string;
  question: string;
  state: string;
  ready: boolean;
  grade: Grade | null;
  unsound: number;
  marginal: number;
  unmeasured: number;
  next: Act | null;
  why: string;
}
export interface Mark {
  mark: string;
  key: string;
  kind: "joint" | "run" | "valve" | "thing";
  title: string;
  grade: Grade | null;
  verdict: string | null;
  spoken: Text;
}
export interface Arrangement {
  key: string;
  title: string;
}
export interface State {
  key: string;
  title: string;
  duties: ("moving" | "tied")[];
}
export interface Page {
  schema: "hosewright.page/1";
  number: number;
  /** False while only the prompt verdicts are reckoned. */
  settled: boolean;
  boat: null | { name: string; file: string; hash: string; kept: string; folder: string };
  /** The file can't be read: this is the last good answer. */
  locked: null | { why: string; line: number; column: number; found: string; since: string };
  arrangements: Arrangement[];
  arrangement: string | null;
  states: State[];
  counts: { unsound: number; marginal: number; unmeasured: number; sound: number };
  remarks: Remark[];
  chapters: Chapter[];
  verdicts: PageVerdict[];
  marks: Mark[];
  next: Act[];
  history: { back: string | null; forth: string | null; steps: string[] };
  /** Values changed outside in the last ten minutes. */
  changed: { place: string; at: string }[];
}

export interface Placed {
  class: string;
  key?: string;
  spoken?: string;
  shape:
    | { path: string }
    | { circle: [number, number, number] }
    | {
        text: {
          x: number;
          y: number;
          anchor: "start" | "middle" | "end";
          face: "plain" | "bold" | "italic";
          size: number;
          text: string;
        };
      };
}
export interface BandTable {
  heads: string[];
  columns: { key: string | null; x: number; cells: string[] }[];
  rows: { title: string; cells: { x: number; text: string }[] }[];
}
export interface Drawing {
  number: number;
  width: number;
  height: number;
  spoken: string;
  placed: Placed[];
  marks: { key: string; mark: string; x: number }[];
  table: BandTable | null;
  /** Where the way of a strip begins and where it ends [px]. */
  ends: [number, number] | null;
  /** What branches off the main circuit, with the places where it leaves it and comes back [px]. */
  tees: Tee[];
  /** What each asked heel and trim does, in the program's words. */
  tilts: Tilt[];
}
export interface Tee {
  key: string;
  title: string;
  from: number | null;
  to: number | null;
}
export interface Tilt {
  name: string;
  says: string;
  missing: string | null;
  under: string[];
}
export type Form = "ribbon" | "half" | "tall";

export type Reading =
  | { ok: true; toml: string; shown: string; remark: string | null }
  | { ok: false; why: string; expected: string };

export type ValueKind =
  | "measured"
  | "plate"
  | "assumed"
  | "guessed"
  | "computed"
  | "empty"
  | "unknown"
  | "choose"
  | "text";
export interface Value {
  place: string;
  text: string | null;
  toml: string;
  kind: ValueKind;
  instrument: string | null;
  units: string[];
  instruments: { name: string; tolerance: Text }[];
  title: string;
  says: string;
  /** Why no single value is written there, and where each is instead; null where one is. */
  closed: string | null;
}

export interface Trial {
  verdicts: PageVerdict[];
  rows: { title: string; now: Text; trial: Text; grade: Grade | null }[];
  keep: TrialKeep;
}
/** What of a trial a state of the boat file can hold. */
export interface TrialKeep {
  /** As they would stand in the state: `power = "24.8 kW"`. */
  holds: string[];
  /** What no state can hold, in whole sentences. */
  left: Text[];
  /** What else would change if the sea were written as the warmest that she meets. */
  summer: Text | null;
}
/** Keeps a trial: in a new state of that name, or in the state that was tried. */
export interface KeepAsk extends TrialAsk {
  name: string | null;
  summer: boolean;
}
export interface TrialAsk {
  arrangement: string | null;
  state: string | null;
  sea?: string;
  load?: number;
  fouling?: number;
}

export interface SurveyBox {
  place: string;
  name: string;
  says: string;
  entry: string;
  instrument: string | null;
  holds: string;
  text: string | null;
  picture: "outside" | "bead" | "straight" | "material" | "way" | "length" | "other";
}
export interface SurveyEnd {
  part: string;
  mark: string | null;
  boxes: SurveyBox[];
}
export interface SurveyNext {
  place: Place;
  station: { path: string; title: string };
  part: string;
  how: string[];
  settles: number;
  named_by: string[];
  settled: string[];
  opened: string[];
  tried: boolean;
  mark: string | null;
}
export interface Survey {
  number: number;
  values: number;
  empty: number;
  stations: { path: string; title: string; ends: SurveyEnd[] }[];
  next: SurveyNext[];
  pairs: { place: string; readings: string[] }[];
}
export interface Entry {
  id: string;
  place: string;
  text: string;
  instrument: string | null;
  note: string | null;
  at: string;
  saw: string | null;
}
export interface Outcome {
  id: string;
  kept: boolean;
  why: string | null;
}
export interface Boats {
  demos: { key: string; title: string; says: string }[];
  asks: {
    key: string;
    question: string;
    choices: { key: string; words: string }[] | null;
    hint: string;
  }[];
}
export interface Share {
  on: boolean;
  address: string | null;
  qr: boolean[][] | null;
  devices: { name: string; at: string; kept: number }[];
}
export interface Event {
  number: number;
  why: "edit" | "outside" | "settled" | "locked" | "unlocked";
}
/** One value to be written; `to` is TOML, and empty removes it. */
export interface Edit {
  place: string;
  to: string;
}

/** The program refused, and says why. */
export class Refused extends Error {
  readonly status: number;
  readonly why: string;
  readonly place: { line: number; column: number } | undefined;
  readonly found: string | undefined;
  readonly expected: string | undefined;

  constructor(status: number, told: Partial<Refused>) {
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

/**
 * The key of this run. On this computer it stands in the page; a phone brings it in the fragment,
 * which no browser sends anywhere. It moves to the session's store and out of the address.
 */
export function takeKey(): string {
  const inPage = document.querySelector<HTMLMetaElement>('meta[name="hosewright-key"]')?.content;
  if (inPage) {
    return inPage;
  }
  const brought = /^#k=([^&]+)/.exec(location.hash)?.[1];
  if (brought !== undefined) {
    sessionStorage.setItem(KEPT, decodeURIComponent(brought));
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

async function ask<T>(path: string, how: RequestInit): Promise<T> {
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
    const told: Partial<Refused> = await answer.json().catch(() => ({}));
    throw new Refused(answer.status, told);
  }
  return (await answer.json()) as T;
}

export function get<T>(path: string, asked: Asked = {}, signal?: AbortSignal): Promise<T> {
  return ask<T>(address(path, asked), signal ? { signal } : {});
}

export function post<T>(path: string, body: unknown, signal?: AbortSignal): Promise<T> {
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

export interface StripAsk {
  arrangement: string | null;
  state: string | null;
  chapter: string;
  width: number;
  form: Form;
  least: number;
  units: Units;
  branch: string | null;
  /** To starboard over 0 [°]; null leaves it upright. */
  heel: number | null;
  /** By the head over 0 [°]. */
  trim: number | null;
  /** Arrangement that is drawn behind, to see what changed. */
  before?: string | null;
  /** A branch laid under the main circuit keeps its heights. */
  level?: boolean;
}
export interface LoopAsk {
  arrangement: string | null;
  state: string | null;
  width: number;
  height: number;
  units: Units;
}

/** The path of a call that answers with the whole page, about an arrangement. */
function about(path: string, arrangement: string | null): string {
  return arrangement === null ? path : `${path}?${new URLSearchParams({ arrangement })}`;
}

export const api = {
  page: (arrangement: string | null, signal?: AbortSignal) =>
    get<Page>("/api/page", { arrangement }, signal),
  strip: (asked: StripAsk, signal?: AbortSignal) =>
    get<Drawing>("/api/strip", { ...asked }, signal),
  working: (arrangement: string | null, id: string, signal?: AbortSignal) =>
    get<Working>("/api/working", { arrangement, id }, signal),
  loop: (asked: LoopAsk, signal?: AbortSignal) => get<Drawing>("/api/loop", { ...asked }, signal),
  edit: (number: number, label: string, edits: Edit[], arrangement: string | null) =>
    post<Page>(about("/api/edits", arrangement), { number, label, edits }),
  back: (number: number, arrangement: string | null) =>
    post<Page>(about("/api/back", arrangement), { number }),
  forth: (number: number, arrangement: string | null) =>
    post<Page>(about("/api/forth", arrangement), { number }),
  reading: (place: string, text: string, units: Units, signal?: AbortSignal) =>
    post<Reading>("/api/reading", { place, text, units }, signal),
  value: (place: string, signal?: AbortSignal) => get<Value>("/api/value", { place }, signal),
  trial: (asked: TrialAsk, signal?: AbortSignal) => post<Trial>("/api/trial", asked, signal),
  keep: (number: number, asked: KeepAsk, arrangement: string | null) =>
    post<Page>(about("/api/keep", arrangement), { number, ...asked }),
  survey: (arrangement: string | null, signal?: AbortSignal) =>
    get<Survey>("/api/survey", { arrangement }, signal),
  entries: (entries: Entry[], signal?: AbortSignal) =>
    post<{ outcomes: Outcome[] }>("/api/entries", { entries }, signal),
  settle: (number: number, place: string, keep: string, arrangement: string | null) =>
    post<Page>(about("/api/settle", arrangement), { number, place, keep }),
  boats: (signal?: AbortSignal) => get<Boats>("/api/boats", {}, signal),
  begin: (start: { demo: string } | { answers: Record<string, string> }) =>
    post<Page>("/api/boats", start),
  share: (signal?: AbortSignal) => get<Share>("/api/share", {}, signal),
  newKey: () => post<Share>("/api/share/key", {}),
  endSharing: () => post<Share>("/api/share/end", {}),
};

/** The first page, which came inside the document; null where it did not. */
export function firstPage(): Page | null {
  const text = document.getElementById("first")?.textContent?.trim();
  return text ? (JSON.parse(text) as Page) : null;
}

/**
 * The one state of the page: the answer of the program, what the reader has chosen, and how the
 * sheet is drawn. All that changes it stands here.
 */
import { Gone, Refused, api, isOvertaken, latest, takeKey, type HeldPage } from "./api";
import type { Act, Chapter, CommentBeside, Edit, KeepAsk, Mark, News, Page, PageVerdict, Text, Trial, Units } from "./sent";
import type { Form } from "./frame/size";
import { listen } from "./events";
import { probe } from "./probe";
import { changes } from "./reckoned";
import { store, useStoreOf } from "./store";
import { whole } from "./whole";

/** What stands in front in the pictures' field. */
export type Front = "sheet" | "loop" | "bay";

export interface Slip {
  /** Value that is written on. */
  place: string;
  /** What to measure, in the program's words; null where the value itself was pressed. */
  how: string | null;
}

export interface State {
  page: Page | null;
  chapter: string;
  /** Mark that is chosen, everywhere at once. */
  chosen: string | null;
  /** Verdict whose card is open. */
  verdict: string | null;
  /** Whether the card shows its working. */
  working: boolean;
  arrangement: string | null;
  /** State of the boat that flow figures are for. */
  state: string | null;
  units: Units;
  night: boolean;
  /** The reader's own form of the strip; null takes what the window has room for. */
  form: Form | null;
  /** The reader's own choice of what stands in front, by chapter. */
  fronts: Record<string, Front>;
  /** Least width of a piece and how far the strip is stretched. */
  trueLengths: boolean;
  stretch: number;
  /** Branch that is laid out in place of the main loop. */
  branch: string | null;
  /** Branch that is unrolled under the main loop. */
  unrolled: string | null;
  /** Whether the arrangement as found is drawn behind the loop. */
  behind: boolean;
  /** A boat was just begun: the survey opens its first box by itself. */
  firstBox: boolean;
  /** Whether the fold is open in which another boat is opened or begun. */
  another: boolean;
  /** Angles that the strip is asked for [°]: to starboard and by the head over 0. */
  heel: number;
  trim: number;
  /** A measurement that was asked for and stands under the act that asked. */
  slip: Slip | null;
  trial: Trial | null;
  /** An edit is under way. */
  pending: boolean;
  /** It has been under way, or unsettled, for long enough to say so. */
  reckoning: boolean;
  /** Nobody answers. */
  gone: boolean;
  /** How often somebody answered again after that: what was not had then is asked for anew. */
  returns: number;
  /** The last thing that the program refused, in its words. */
  refused: { why: string; expected: string | null } | null;
  /** The owner's comment beside what was written last: it may no longer hold. */
  comment: CommentBeside | null;
  /** Marks whose grade the last edit changed. */
  blink: readonly string[];
  /** What a reader of screens is told. */
  said: string;
  /** What lies over the sheet. */
  over: "keys" | "find" | "history" | null;
  /** Whether single letters are keys. */
  letters: boolean;
  printing: boolean;
}

function kept(name: string): string | null {
  try {
    return localStorage.getItem(`hosewright.${name}`);
  } catch {
    // Some browsers refuse the store to a page without a name; then nothing is kept.
    return null;
  }
}

function keep(name: string, value: string): void {
  try {
    localStorage.setItem(`hosewright.${name}`, value);
  } catch {
    // As above: it holds until the page is closed.
  }
}

/** Chapter, mark as they stand in the address: `#/fit/A2`. */
export function readAddress(hash: string): { chapter: string | null; chosen: string | null } {
  const [, chapter, chosen] = /^#\/([^/]*)(?:\/(.+))?$/.exec(hash) ?? [];
  return { chapter: decoded(chapter), chosen: decoded(chosen) };
}

/** A part of the address; one that a hand has broken counts as left out. */
function decoded(part: string | undefined): string | null {
  try {
    return part ? decodeURIComponent(part) : null;
  } catch {
    return null;
  }
}

export const page = store<State>({
  page: null,
  chapter: "boat",
  chosen: null,
  verdict: null,
  working: true,
  arrangement: null,
  state: null,
  units: kept("units") === "imperial" ? "imperial" : "metric",
  night: kept("night") === "yes",
  form: null,
  fronts: {},
  trueLengths: false,
  stretch: 1,
  branch: null,
  unrolled: null,
  behind: false,
  firstBox: false,
  another: false,
  heel: 0,
  trim: 0,
  slip: null,
  trial: null,
  pending: false,
  reckoning: false,
  gone: false,
  returns: 0,
  refused: null,
  comment: null,
  blink: [],
  said: "",
  over: null,
  letters: kept("letters") !== "no",
  printing: false,
});

/** One part of the state, for a component. */
export function usePage<P>(part: (state: State) => P): P {
  return useStoreOf(page, part);
}

/** Picks the text of a pair by the reader's units. */
export function useText(): (text: Text) => string {
  const units = usePage((state) => state.units);
  return (text) => text[units];
}

/** Whether nothing may be written: the file can't be read, nobody answers, or there is no boat. */
export function useShut(): boolean {
  return usePage((state) => state.gone || state.page?.locked != null || state.page?.boat == null);
}

export function chapterOf(answer: Page | null, key: string): Chapter | undefined {
  return answer?.chapters.find((chapter) => chapter.key === key);
}
export function markOf(answer: Page | null, mark: string | null): Mark | undefined {
  return mark === null ? undefined : answer?.marks.find((one) => one.mark === mark);
}
export function verdictOf(answer: Page | null, id: string | null): PageVerdict | undefined {
  return id === null ? undefined : answer?.verdicts.find((one) => one.id === id);
}

/** Says one thing to a reader of screens; the same words twice are said twice. */
export function say(words: string): void {
  page.set({ said: page.get().said === words ? `${words}\u00a0` : words });
}

function writeAddress(push: boolean): void {
  const { chapter, chosen } = page.get();
  const hash = `#/${encodeURIComponent(chapter)}${chosen === null ? "" : `/${encodeURIComponent(chosen)}`}`;
  if (hash !== location.hash) {
    if (push) {
      history.pushState(null, "", hash);
    } else {
      history.replaceState(null, "", hash);
    }
  }
}

/** Opens a chapter. What is chosen stays chosen, its card stays open only where it belongs. */
export function go(chapter: string): void {
  const { page: answer, verdict, chapter: was } = page.get();
  if (chapter === was) {
    return;
  }
  const stays = chapter === "boat" || verdictOf(answer, verdict)?.chapter === chapter;
  page.set({ chapter, verdict: stays ? verdict : null, slip: null, refused: null });
  writeAddress(true);
}

/** Goes to where another boat is opened or begun. */
export function toAnother(): void {
  go("boat");
  setFront("sheet");
  page.set({ another: true });
}

/** Chooses a mark everywhere: cased in the pictures, its worst verdict open. */
export function pick(mark: string | null): void {
  const { page: answer } = page.get();
  const one = markOf(answer, mark);
  page.set({
    chosen: one?.mark ?? null,
    verdict: one?.verdict ?? null,
    slip: null,
    refused: null,
  });
  writeAddress(false);
  if (one) {
    say(one.spoken[page.get().units]);
  }
}

/** Chooses what a key of the boat file stands for, as pictures name it. */
export function pickKey(key: string): boolean {
  const one = page.get().page?.marks.find((mark) => mark.key === key);
  if (one) {
    pick(one.mark);
  }
  return one !== undefined;
}

/** Opens the card of a verdict, and chooses its mark; `null` folds the card. */
export function open(verdict: string | null): void {
  const one = verdictOf(page.get().page, verdict);
  page.set({
    verdict: one?.id ?? null,
    chosen: one?.mark ?? page.get().chosen,
    slip: null,
    refused: null,
  });
  writeAddress(false);
}

/** Goes to where an act is done, and opens it. The act itself stays to be pressed there. */
export function see(act: Act): void {
  go(act.chapter);
  if (act.verdict !== null) {
    open(act.verdict);
  } else if (act.mark !== null) {
    pick(act.mark);
  }
  if (act.place !== null && act.edit === null) {
    page.set({ slip: { place: act.place.path, how: act.label } });
  }
}

/** One step up: slip, card, selection, chapter. */
export function up(): void {
  const now = page.get();
  if (now.over !== null) {
    page.set({ over: null });
  } else if (now.slip !== null) {
    page.set({ slip: null });
  } else if (now.verdict !== null) {
    page.set({ verdict: null });
  } else if (now.chosen !== null) {
    pick(null);
  } else {
    go("boat");
  }
}

export function setUnits(units: Units): void {
  keep("units", units);
  page.set({ units });
}
export function setNight(night: boolean): void {
  keep("night", night ? "yes" : "no");
  page.set({ night });
  showNight();
}
export function setLetters(letters: boolean): void {
  keep("letters", letters ? "yes" : "no");
  page.set({ letters });
}
export function showNight(): void {
  document.documentElement.dataset["night"] = page.get().night ? "yes" : "no";
}
export function setFront(front: Front): void {
  const { fronts, chapter } = page.get();
  page.set({ fronts: { ...fronts, [chapter]: front } });
}
export function setState(state: string): void {
  page.set({ state });
}

const fetchPage = latest((signal: AbortSignal, arrangement: string | null) =>
  api.page(arrangement, signal),
);

export function setArrangement(arrangement: string): void {
  page.set({ arrangement });
  void refresh();
}

/** Asks for the answer anew. */
export async function refresh(): Promise<void> {
  const wanted = page.get().arrangement;
  try {
    take(await fetchPage(wanted));
  } catch (fault) {
    heed(fault);
  }
}

/** Takes a new answer in. An older one than that on the sheet is dropped. */
export function take(answer: Page): void {
  const now = page.get();
  if (now.page && answer.run !== now.page.run) {
    // The program was started anew, and may be another one: its changes are counted from 1 again.
    location.reload();
    return;
  }
  if (now.page && answer.number < now.page.number) {
    return;
  }
  const same = now.page !== null && now.page.arrangement === answer.arrangement;
  const blink = same && now.page ? changes(now.page, answer).map((mark) => mark.mark) : [];
  page.set({
    page: answer,
    arrangement: answer.arrangement,
    state: answer.states.some((state) => state.key === now.state)
      ? now.state
      : (answer.states[0]?.key ?? null),
    chosen: markOf(answer, now.chosen)?.mark ?? null,
    verdict: verdictOf(answer, now.verdict)?.id ?? null,
    pending: false,
    blink,
    chapter: answer.boat === null ? "boat" : now.chapter,
  });
  found();
  document.title = answer.boat ? `${answer.boat.name} · Hosewright` : "Hosewright";
  watchReckoning();
}

/** What came of a call that failed: nobody there, or words to show. */
export function heed(fault: unknown): void {
  if (isOvertaken(fault)) {
    return;
  }
  if (fault instanceof Gone) {
    lost();
  } else if (fault instanceof Refused) {
    page.set({
      pending: false,
      refused: { why: fault.why, expected: fault.expected ?? null },
    });
    say(fault.why);
  } else {
    page.set({ pending: false });
    throw fault;
  }
}

/** How long the program may take to answer while it is looked for [ms]. */
const PATIENCE = 10_000;

/** Looks for a program that did not answer, by the lightest of its calls. */
const search = probe(
  () =>
    api.boats(AbortSignal.timeout(PATIENCE)).then(
      () => true,
      (fault: unknown) => !(fault instanceof Gone),
    ),
  () => {
    found();
    void refresh();
  },
);

/** Nobody answers: the page says so, and looks for the program until it is there again. */
export function lost(): void {
  page.set({ gone: true, pending: false });
  search.start();
}

/** Somebody answers. */
function found(): void {
  search.stop();
  const { gone, returns } = page.get();
  if (gone) {
    page.set({ gone: false, returns: returns + 1 });
  }
}

let late: ReturnType<typeof setTimeout> | undefined;

/** "Being reckoned" is said only of what takes longer than a blink. */
function watchReckoning(): void {
  clearTimeout(late);
  const { pending, page: answer } = page.get();
  if (pending || answer?.settled === false) {
    late = setTimeout(() => page.set({ reckoning: true }), 150);
  } else {
    page.set({ reckoning: false });
  }
}

/** Writes: the answer is taken, what changed is said. Throws what the program refused. */
async function write(call: (number: number, held: HeldPage) => Promise<Page>): Promise<void> {
  const before = page.get().page;
  if (!before) {
    return;
  }
  page.set({ pending: true, refused: null, comment: null });
  watchReckoning();
  try {
    const after = whole(before, await call(before.number, { ...before, chosen: page.get().chosen }));
    if (after === null) {
      await refresh();
      return;
    }
    take(after);
    page.set({ comment: after.comment });
    const words = [after.told, after.comment?.told ?? ""].filter((word) => word !== "").join(" ");
    if (words !== "") {
      say(words);
    }
  } finally {
    page.set({ pending: false });
    watchReckoning();
    if (missed) {
      missed = false;
      void refresh();
    }
  }
}

/**
 * Writes into the boat file; `seen` is the change at which the values were seen that are written over, the newest where it
 * is left out. Throws a `Refused` or a `Gone` for the caller to show.
 */
export function edit(label: string, edits: Edit[], seen?: number): Promise<void> {
  return write((number, held) => api.edit(seen ?? number, label, edits, held));
}
/** Writes what was tried into a state. Throws as `edit` does. */
export function keepTrial(asked: Omit<KeepAsk, "number">): Promise<void> {
  return write((number, held) => api.keep(number, asked, held));
}
/** Chooses one of two readings. Throws as `edit` does. */
export function settlePair(place: string, reading: string): Promise<void> {
  return write((number, held) => api.settle(number, place, reading, held));
}
export function takeBack(): Promise<void> {
  return write(api.back).catch(heed);
}
export function putBack(): Promise<void> {
  return write(api.forth).catch(heed);
}
/** Carries an edit out and shows a refusal at the head of the verdicts. */
export function carryOut(label: string, edits: Edit[]): Promise<void> {
  return edit(label, edits).catch(heed);
}

/** News that came while an edit was under way. */
let missed = false;

/** News of the program: another's edit, a change outside, the settling of an answer. */
function hear(event: News): void {
  const { page: answer, pending } = page.get();
  const old = answer === null || event.number > answer.number || event.why !== "edit";
  if (old && pending) {
    missed = true;
  } else if (old) {
    void refresh();
  }
}

/** Begins: the first answer, the address, and the news. */
export function begin(first: Page | null): void {
  const { chapter, chosen } = readAddress(location.hash);
  if (first) {
    take(first);
    if (first.boat !== null && chapterOf(first, chapter ?? "")) {
      page.set({ chapter: chapter ?? "boat" });
    }
    if (chosen !== null) {
      pick(chosen);
    }
  } else {
    if (chapter !== null) {
      page.set({ chapter });
    }
    void refresh();
  }
  addEventListener("popstate", () => {
    // A code that was scanned again brings the key of a new run to the same page.
    if (location.hash.startsWith("#k=")) {
      takeKey();
      writeAddress(false);
      void refresh();
      return;
    }
    const to = readAddress(location.hash);
    page.set({ chapter: to.chapter ?? "boat" });
    pick(to.chosen);
  });
  listen({
    hear,
    open(again) {
      const was = page.get().gone;
      found();
      // What was told while no line was open was not heard.
      if (again || was) {
        void refresh();
      }
    },
    lost,
  });
}

/** The keys of the sheet. Single letters work only where nothing is typed, and can be switched off. */
import { along, beside } from "../reckoned";
import { nextOf } from "./column";
import { print } from "./printout";
import { toCard } from "./to-card";
import {
  go,
  open,
  page,
  pick,
  putBack,
  say,
  see,
  setFront,
  setNight,
  takeBack,
  up,
} from "../state";
import { stretchBy, stretchTo } from "../strip/stretch";

export interface Key {
  keys: string;
  does: string;
}

/** As the keys' sheet lists them. */
export const KEYS: readonly Key[] = [
  { keys: "1 … 9, 0, -, h", does: "Survey … Fill, Prove, Watch, Get home" },
  { keys: "Esc", does: "up one: slip, card, selection, Boat" },
  { keys: "n", does: "next act" },
  { keys: "u", does: "next unsound" },
  { keys: ", and .", does: "previous and next mark, against and with the flow" },
  { keys: "w", does: "open or fold the working" },
  { keys: "Enter", does: "open; write on the value in focus" },
  { keys: "Ctrl+Z, Ctrl+Shift+Z", does: "take back, put back" },
  { keys: "/", does: "find a mark or a name" },
  { keys: "l, b", does: "loop, bay in front" },
  { keys: "v, x, [ and ]", does: "in the bay: look from, section, its step (with Shift 1 mm)" },
  { keys: "m, e", does: "in the bay: measure, engine up and down" },
  { keys: "arrows, +, -, 0 in the bay", does: "turn (with Shift shift), nearer, farther, whole" },
  { keys: "s", does: "strip tall" },
  { keys: "i", does: "heel and trim" },
  { keys: "+, -, 0 in the strip", does: "longer, shorter, whole" },
  { keys: "r", does: "red light" },
  { keys: "Ctrl+P", does: "print this chapter" },
  { keys: "?", does: "these keys" },
];

/** Chapters by their key on the board. */
const CHAPTERS: Record<string, string> = {
  "1": "survey",
  "2": "circuit",
  "3": "route",
  "4": "fit",
  "5": "flow",
  "6": "order",
  "7": "drain",
  "8": "build",
  "9": "fill",
  "0": "prove",
  "-": "watch",
  h: "home",
};

/** Whether what has the focus takes letters itself. */
export function takesLetters(one: { tagName: string; type?: string; isContentEditable?: boolean }): boolean {
  return (
    one.isContentEditable === true ||
    one.tagName === "TEXTAREA" ||
    one.tagName === "SELECT" ||
    (one.tagName === "INPUT" && !["checkbox", "radio", "button", "file"].includes(one.type ?? ""))
  );
}

function unsoundNext(): void {
  const { page: answer, verdict } = page.get();
  const all = answer?.verdicts.filter((one) => one.grade === "unsound") ?? [];
  const next = beside(all, verdict, 1);
  if (next) {
    if (next.chapter !== page.get().chapter && page.get().chapter !== "boat") {
      go(next.chapter);
    }
    open(next.id);
    toCard();
  } else {
    say("Nothing unsound.");
  }
}

function step(by: 1 | -1): void {
  const { page: answer, chosen } = page.get();
  const next = answer ? along(answer.marks, chosen, by) : undefined;
  if (next) {
    pick(next.mark);
  }
}

/** What a letter does; null where it is no key. */
function letter(key: string, inStrip: boolean): (() => void) | null {
  const { chapter, working, night, form, page: answer } = page.get();
  if (inStrip && key === "+") return () => stretchBy(1.5);
  if (inStrip && key === "-") return () => stretchBy(1 / 1.5);
  if (inStrip && key === "0") return () => stretchTo(1);
  const to = CHAPTERS[key];
  if (to !== undefined) return () => (answer?.boat ? go(to) : undefined);
  switch (key) {
    case "n":
      return () => {
        const act = answer ? nextOf(answer, chapter) : null;
        if (act) {
          see(act);
          toCard();
        }
      };
    case "u":
      return unsoundNext;
    case ",":
      return () => step(-1);
    case ".":
      return () => step(1);
    case "w":
      return () => page.set({ working: !working });
    case "/":
      return () => page.set({ over: "find" });
    case "l":
      return () => setFront("loop");
    case "b":
      return () => setFront("bay");
    case "s":
      return () => page.set({ form: form === "tall" ? null : "tall" });
    case "i":
      return () => document.querySelector<HTMLElement>(".stepper.heel button")?.focus();
    case "r":
      return () => setNight(!night);
    case "?":
      return () => page.set({ over: "keys" });
    default:
      return null;
  }
}

/** The key that was pressed, and what comes of it. */
export function onKey(event: KeyboardEvent): void {
  const target = event.target instanceof HTMLElement ? event.target : document.body;
  const typing = takesLetters(target as HTMLElement & { type?: string });
  const command = event.ctrlKey || event.metaKey;
  if (command && !event.altKey) {
    const key = event.key.toLowerCase();
    if (key === "z" && !typing) {
      event.preventDefault();
      void (event.shiftKey ? putBack() : takeBack());
    } else if (key === "p" && page.get().page?.boat) {
      event.preventDefault();
      void print();
    }
    return;
  }
  if (event.altKey || event.defaultPrevented) {
    return;
  }
  if (event.key === "Escape") {
    up();
    return;
  }
  if (typing || !page.get().letters || page.get().over === "keys" || page.get().over === "find") {
    return;
  }
  const act = letter(event.key, target.closest(".strip") !== null);
  if (act) {
    event.preventDefault();
    act();
  }
}

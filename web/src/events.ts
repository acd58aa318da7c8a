/**
 * The program's news, as server-sent events read by `fetch`, since an `EventSource` can't show the
 * key of the run.
 */
import { takeKey } from "./api";
import { wait } from "./probe";
import type { News } from "./sent";

/** Takes whole events off the front of `text`; the rest waits for more. */
export function cut(text: string): { events: string[]; rest: string } {
  const blocks = text.replaceAll("\r\n", "\n").split("\n\n");
  const rest = blocks.pop() ?? "";
  const events: string[] = [];
  for (const block of blocks) {
    const data = block
      .split("\n")
      .filter((line) => line.startsWith("data:"))
      .map((line) => line.slice(5).trimStart());
    if (data.length > 0) {
      events.push(data.join("\n"));
    }
  }
  return { events, rest };
}

/** A line that is silent for so long is dead [ms]: the program shows every 15 s that it lives. */
export const SILENCE = 40_000;
/** How long the program may take to open a line [ms]. */
export const OPENING = 10_000;

/** Who listens. */
export interface Ear {
  hear(news: News): void;
  /** The line is open; `again` says that one was open before, so that news may have been missed. */
  open(again: boolean): void;
  /** Nobody is at the other end. */
  lost(): void;
}

/** What an opened line is read from. */
export type Answer = Pick<Response, "ok" | "body">;

function ask(signal: AbortSignal): Promise<Answer> {
  return fetch("/api/events", {
    headers: { "X-Hosewright-Key": takeKey(), Accept: "text/event-stream" },
    cache: "no-store",
    signal,
  });
}

/** Listens until it is ended, which the page never does; a line that ends or dies is opened anew. */
export function listen(ear: Ear, open: (signal: AbortSignal) => Promise<Answer> = ask): () => void {
  let tries = 0;
  let before = false;
  let ended = false;
  let line: AbortController | null = null;
  let timer: ReturnType<typeof setTimeout> | undefined;
  const again = () => {
    timer = setTimeout(() => void once(), wait(tries));
    tries += 1;
  };
  const once = async () => {
    const own = new AbortController();
    line = own;
    let silent = false;
    const hushed = () => {
      silent = true;
      own.abort();
    };
    let watch = setTimeout(() => own.abort(), OPENING);
    try {
      const answer = await open(own.signal);
      if (answer.ok && answer.body) {
        tries = 0;
        ear.open(before);
        before = true;
        const reader = answer.body.getReader();
        const letters = new TextDecoder();
        let text = "";
        for (;;) {
          clearTimeout(watch);
          // A comment is a sign of life as good as news.
          watch = setTimeout(hushed, SILENCE);
          const { done, value } = await reader.read();
          if (done) {
            break;
          }
          const { events, rest } = cut(text + letters.decode(value, { stream: true }));
          text = rest;
          for (const event of events) {
            ear.hear(JSON.parse(event) as News);
          }
        }
        if (!ended) {
          ear.lost();
        }
      }
    } catch {
      // A line that fell silent says nothing of the program: that it is gone shows when it is opened anew.
      if (!ended && !silent) {
        ear.lost();
      }
    } finally {
      clearTimeout(watch);
    }
    if (ended) {
      return;
    }
    if (silent) {
      void once();
    } else {
      again();
    }
  };
  void once();
  return () => {
    ended = true;
    clearTimeout(timer);
    line?.abort();
  };
}

/**
 * The program's news, as server-sent events read by `fetch`, since an `EventSource` can't show the
 * key of the run.
 */
import { takeKey } from "./api";
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

/** How long to wait before trying again [ms]: 1, 2, 4, then every 5 s. */
export function wait(tries: number): number {
  return Math.min(5, 2 ** tries) * 1000;
}

/** Listens for as long as the page is open; `gone` is told when nobody answers, and when again. */
export function listen(hear: (event: Event) => void, gone: (gone: boolean) => void): void {
  let tries = 0;
  const again = () => {
    tries += 1;
    setTimeout(() => void once(), wait(tries - 1));
  };
  const once = async () => {
    try {
      const answer = await fetch("/api/events", {
        headers: { "X-Hosewright-Key": takeKey(), Accept: "text/event-stream" },
        cache: "no-store",
      });
      if (!answer.ok || !answer.body) {
        again();
        return;
      }
      tries = 0;
      gone(false);
      const reader = answer.body.pipeThrough(new TextDecoderStream()).getReader();
      let text = "";
      for (;;) {
        const { done, value } = await reader.read();
        if (done) {
          break;
        }
        const { events, rest } = cut(text + value);
        text = rest;
        for (const event of events) {
          hear(JSON.parse(event) as Event);
        }
      }
      gone(true);
    } catch {
      gone(true);
    }
    again();
  };
  void once();
}

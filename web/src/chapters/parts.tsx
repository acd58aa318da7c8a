/** What several chapters are made of. */
import { useEffect, useState, type ReactNode } from "react";

import { Gone, Refused, address, takeKey } from "../api";
import type { Page, Wrong } from "../sent";
import { handOver } from "../phone/waiting";
import { chapterOf, lost, usePage } from "../state";

/** What a call that failed is called on the sheet. */
export function wordsOf(fault: unknown): string {
  if (fault instanceof Gone) {
    return "Nobody answers. What was kept is in the boat file.";
  }
  return fault instanceof Refused ? fault.why : String(fault);
}

/** Where nobody answered, the page looks for the program. */
export function missed(fault: unknown): void {
  if (fault instanceof Gone) {
    lost();
  }
}

/** An answer of the program, asked anew at every change of the file; the old one stands until then. */
export function useAsked<T>(
  call: (arrangement: string | null, signal: AbortSignal) => Promise<T>,
  arrangement: string | null,
  number: number,
): { answer: T | null; fault: string | null; old: boolean } {
  const [got, setGot] = useState<{ of: string | null; number: number; answer: T } | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  // What nobody answered is asked anew when somebody does.
  const returns = usePage((state) => state.returns);
  useEffect(() => {
    const gone = new AbortController();
    call(arrangement, gone.signal).then(
      (answer) => {
        setGot({ of: arrangement, number, answer });
        setFault(null);
      },
      (why: unknown) => {
        if (!gone.signal.aborted) {
          setFault(wordsOf(why));
          missed(why);
        }
      },
    );
    return () => gone.abort();
  }, [call, arrangement, number, returns]);
  const mine = got !== null && got.of === arrangement ? got : null;
  return { answer: mine?.answer ?? null, fault, old: mine !== null && mine.number !== number };
}

/** What stands while an answer is under way or can't be had. */
export function Coming({ what, fault }: { what: string; fault: string | null }) {
  return fault === null ? <p className="soft">{what} coming</p> : <p className="fault">{fault}</p>;
}

/** The body of a chapter, with what is open in it in the program’s words. */
export function Body({ page, chapter, children }: { page: Page; chapter: string; children: ReactNode }) {
  const own = chapterOf(page, chapter);
  return (
    <div className={`chapter chapter-${chapter}`}>
      {/* Where there is no next act, the column says it already. */}
      {own !== undefined && own.why !== "" && own.next !== null && <p className="chapter-why">{own.why}</p>}
      {children}
    </div>
  );
}

/** Fetches a file with the run’s key and hands it to the browser. */
async function fetchFile(path: string, name: string): Promise<void> {
  let answer: Response;
  try {
    answer = await fetch(path, { headers: { "X-Hosewright-Key": takeKey() }, cache: "no-store" });
  } catch {
    throw new Gone();
  }
  if (!answer.ok) {
    throw new Refused(answer.status, (await answer.json().catch(() => ({}))) as Partial<Wrong>);
  }
  // Where the program names it by boat and day, that name holds.
  const told = /filename="([^"]+)"/.exec(answer.headers.get("Content-Disposition") ?? "")?.[1];
  handOver(told ?? name, answer.headers.get("Content-Type") ?? "application/octet-stream", await answer.blob());
}

/** A file to be had by a press. */
export function FileKey({
  path,
  asked = {},
  name,
  children,
}: {
  path: string;
  asked?: Record<string, string | null>;
  name: string;
  children: ReactNode;
}) {
  const [fault, setFault] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  return (
    <span className="file-key">
      <button
        type="button"
        aria-disabled={busy}
        onClick={() => {
          if (busy) {
            return;
          }
          setBusy(true);
          fetchFile(address(path, asked), name)
            .then(
              () => setFault(null),
              (why: unknown) => setFault(wordsOf(why)),
            )
            .finally(() => setBusy(false));
        }}
      >
        {children}
      </button>
      {busy && <span className="soft"> being laid out</span>}
      {fault !== null && (
        <span className="fault" role="alert">
          {" "}
          {fault}
        </span>
      )}
    </span>
  );
}

/** What waits on this phone: each entry with its state, to be amended, and the way out by a file. */
import { useState } from "react";

import { boatName, fileOf, type Queue, type Standing } from "./queue";
import type { Kept } from "./store";
import type { Page } from "../sent";

/** Hands a file to the browser; nothing of it leaves the machine. */
export function handOver(name: string, kind: string, text: BlobPart): void {
  const address = URL.createObjectURL(new Blob([text], { type: kind }));
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  link.click();
  // The browser has begun to read by the next turn.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

function Row({ entry, boat, queue }: { entry: Kept; boat: string; queue: Queue }) {
  const [text, setText] = useState<string | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const name = `${entry.mark === "" ? "" : `${entry.mark}, `}${entry.title}`;
  const other = entry.boat !== boat;
  return (
    <li className="waiting-row">
      <p className="waiting-name">{name}</p>
      {text === null ? (
        <p className="waiting-value">
          <b>{entry.text}</b>
          {entry.instrument !== null && <span className="soft"> by {entry.instrument}</span>}
          {entry.note !== null && <span className="soft"> · {entry.note}</span>}
        </p>
      ) : (
        <form
          className="waiting-amend"
          onSubmit={(event) => {
            event.preventDefault();
            queue
              .amend(entry, { text: text.trim(), instrument: entry.instrument, note: entry.note })
              .then(
                () => setText(null),
                (why: unknown) => setFault(String(why)),
              );
          }}
        >
          <label>
            <span className="unseen">{name}</span>
            <input value={text} onChange={(event) => setText(event.target.value)} autoFocus />
          </label>
          <button type="submit" aria-disabled={text.trim() === ""}>
            Keep
          </button>
          <button type="button" onClick={() => setText(null)}>
            Leave
          </button>
        </form>
      )}
      {fault !== null && <p className="fault">{fault}</p>}
      <p className="soft">
        {entry.refused !== null
          ? `Not taken: ${entry.refused}`
          : other
            ? `For ${entry.boat}. It waits until that boat is open here.`
            : "Waits to go over."}
      </p>
      {text === null && (
        <span className="waiting-keys">
          {entry.asks === true && (
            <button
              type="button"
              onClick={() => {
                queue.amend(entry, { meant: true }).then(
                  () => setFault(null),
                  (why: unknown) => setFault(String(why)),
                );
              }}
            >
              Keep {entry.text}
            </button>
          )}
          <button type="button" onClick={() => setText(entry.text)}>
            Amend
          </button>
        </span>
      )}
    </li>
  );
}

/** What stands at the head of the list, in one sentence. */
export function headOf(standing: Standing): string {
  const waits = standing.entries.length;
  if (waits === 0) {
    return "All gone over. Nothing waits here.";
  }
  return `${waits} waiting to go over`;
}

export function Waiting({
  page,
  queue,
  standing,
  onBack,
}: {
  page: Page;
  queue: Queue;
  standing: Standing;
  onBack: () => void;
}) {
  const boat = boatName(page.boat);
  return (
    <div className="pad-over" role="dialog" aria-modal="true" aria-label="Waiting">
      <h2 tabIndex={-1}>{headOf(standing)}</h2>
      {standing.cut && <p>Cut off. Go on measuring; leave this page open.</p>}
      {standing.oldKey && <p>This key is from an earlier run. Scan the code again.</p>}
      {standing.barred !== null && !standing.oldKey && <p>Not taken: {standing.barred}</p>}
      {standing.broken !== null && <p className="fault">This phone keeps nothing: {standing.broken}</p>}
      {standing.told.map((one, at) => (
        <p key={`${at} ${one.what}`}>
          <b>{one.what}</b>: {one.why}
        </p>
      ))}
      <ul className="waiting">
        {standing.entries.map((entry) => (
          <Row key={entry.seq} entry={entry} boat={boat} queue={queue} />
        ))}
      </ul>
      <p className="soft">
        This page lives in the boat’s computer, not in this phone: closed or loaded again while cut
        off, it will not open until the link is back. What waits here is there then.
      </p>
      <div className="pad-keys-two">
        <button type="button" className="key" onClick={onBack}>
          Back to the pad
        </button>
        <button
          type="button"
          className="key"
          aria-disabled={standing.entries.length === 0}
          onClick={() => {
            if (standing.entries.length > 0) {
              const now = new Date().toISOString();
              const file = JSON.stringify(fileOf(standing.entries, now), null, 2);
              handOver(`entries-${now.slice(0, 10)}.json`, "application/json", file);
            }
          }}
        >
          Write these to a file
        </button>
      </div>
    </div>
  );
}

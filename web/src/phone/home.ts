/** Get home: the little that the page keeps of the card. */

/** The symptom that was pressed; it survives a reload. */
export interface Pressed {
  sign: string;
  /** When, in milliseconds. */
  at: number;
}

export function readPressed(text: string | null): Pressed | null {
  if (text === null) {
    return null;
  }
  try {
    const own: unknown = JSON.parse(text);
    if (typeof own === "object" && own !== null && "sign" in own && "at" in own) {
      return typeof own.sign === "string" && typeof own.at === "number" ? { sign: own.sign, at: own.at } : null;
    }
  } catch {
    // Something else wrote there: nothing was pressed.
  }
  return null;
}

/** The clock since the symptom: minutes and seconds, hours once there are any. */
export function clock(milliseconds: number): string {
  const seconds = Math.max(0, Math.floor(milliseconds / 1000));
  const two = (value: number): string => String(value).padStart(2, "0");
  const [hours, minutes] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60];
  return hours > 0 ? `${hours}:${two(minutes)}:${two(seconds % 60)}` : `${two(minutes)}:${two(seconds % 60)}`;
}

/** What an act says first, which is set large, and the rest of it. */
export function parted(act: string): { first: string; rest: string } {
  const end = /[.?](?=\s)/.exec(act);
  if (end === null) {
    return { first: act, rest: "" };
  }
  const at = end.index + 1;
  const first = act.slice(0, at);
  // A question alone is no instruction: its answer belongs to it.
  if (first.endsWith("?")) {
    const more = /[.](?=\s)/.exec(act.slice(at));
    if (more !== null) {
      const to = at + more.index + 1;
      return { first: act.slice(0, to), rest: act.slice(to).trim() };
    }
  }
  return { first, rest: act.slice(at).trim() };
}

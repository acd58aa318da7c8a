/** What is typed and pressed to lay a scan: coordinates, lengths, the points that are one in both. */
import { back, type Size, type View } from "./camera";
import type { P3, ScanPair } from "./form";
import { times } from "./space";

type Units = "metric" | "imperial";

/** Three numbers with commas, semicolons or spaces between them; null where they are not three. */
export function readP3(text: string): P3 | null {
  const trimmed = text.trim().replaceAll("\u2212", "-");
  // With a decimal comma the three are kept apart by blanks or semicolons.
  const parts = (/[;\s]/.test(trimmed) ? trimmed.split(/(?:\s*;\s*|,?\s+)/).map((part) => part.replace(",", ".")) : trimmed.split(",")).filter((part) => part !== "");
  const numbers = parts.map(Number);
  const [x, y, z] = numbers;
  return numbers.length === 3 && numbers.every(Number.isFinite) && x !== undefined && y !== undefined && z !== undefined ? [x, y, z] : null;
}

/** Names of units, how many metres one of them is, and how its name may begin. */
export const UNITS: readonly [name: string, metres: number, begins: RegExp][] = [
  ["metres", 1, /^(m$|met)/i],
  ["centimetres", 0.01, /^(cm|centi)/i],
  ["millimetres", 0.001, /^(mm|milli)/i],
  ["inches", 0.0254, /^(in|")/i],
  ["feet", 0.3048, /^(ft|foot|feet|')/i],
];

/** One of what is typed without its unit [m]. */
const each = (units: Units): number => (units === "imperial" ? 0.0254 : 0.001);

/** A length as typed, with its unit or in that of the page; null where it can't be read or is none [m]. */
export function readLength(text: string, units: Units): number | null {
  const [, digits = "", unit = ""] = /^\s*(\d+(?:[.,]\d+)?)\s*([a-z"']*)\s*$/i.exec(text) ?? [];
  const metres = unit === "" ? each(units) : UNITS.find(([, , begins]) => begins.test(unit))?.[1];
  const number = Number(digits.replace(",", "."));
  return metres !== undefined && number > 0 ? number * metres : null;
}

/** A point that is to be shown in the scan: a place that the program knows, or one in numbers. */
export interface Row {
  name: string;
  /** Where it is in the boat, as typed in the page's units; null for a place that is known. */
  at: string | null;
  /** Where it is in the scan, as typed. */
  scan: string;
}

/** Those that are shown in both. */
export function pairsOf(rows: readonly Row[], units: Units): ScanPair[] {
  return rows.flatMap((row) => {
    const scan = readP3(row.scan);
    const typed = row.at === null ? null : readP3(row.at);
    const name = row.name.trim();
    return scan === null || name === "" || (row.at !== null && typed === null) ? [] : [{ name, scan, bay: typed && times(typed, each(units)) }];
  });
}

/** Why a scan can't be laid yet; null where it can. */
export function wants(pairs: readonly ScanPair[], unit: number | null, length: { a: P3 | null; b: P3 | null; long: number | null } | null): string | null {
  if (unit === null && (length === null || length.a === null || length.b === null || length.long === null)) {
    return "Say its unit, or one length in it that you know.";
  }
  return pairs.length < 3 ? `Show the same points in both: ${pairs.length} of 3.` : null;
}

const MOST = 200e6;

/** Why a file isn't sent; null where it is. */
export function bars(size: number, shut: boolean, busy: boolean): string | null {
  if (shut) {
    return "No scan can be taken now: no boat is open, or her file can’t be written.";
  }
  if (busy) {
    return "The scan before is still being read.";
  }
  return size > MOST ? `It has ${Math.ceil(size / 1e6)} MB, and ${MOST / 1e6} MB are read at most: let the scanning program or a mesh program thin it out.` : null;
}

/** The line of sight through a spot of the picture, in the scan's numbers; `size` of them are one metre in the view. */
export function rayOf(view: View, room: Size, x: number, y: number, size: number): { from: P3; way: P3; near: number } {
  return { from: times(back(view, room, x, y), size), way: view.way, near: (7 / view.scale) * size };
}

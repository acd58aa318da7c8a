/** What is typed and picked to lay a scan: coordinates, lengths, the points that are one in both. */
import type { P3, ScanPair } from "./form";

/** Three numbers with commas, semicolons or spaces between them; null where they are not three. */
export function readP3(text: string): P3 | null {
  const trimmed = text.trim().replaceAll("\u2212", "-");
  // With a decimal comma the three are kept apart by blanks or semicolons.
  const parts = (/[;\s]/.test(trimmed) ? trimmed.split(/(?:\s*;\s*|,?\s+)/).map((part) => part.replace(",", ".")) : trimmed.split(",")).filter((part) => part !== "");
  const numbers = parts.map(Number);
  const [x, y, z] = numbers;
  return numbers.length === 3 && numbers.every(Number.isFinite) && x !== undefined && y !== undefined && z !== undefined ? [x, y, z] : null;
}

/** Names of units and how many metres one of them is. */
export const UNITS: readonly [name: string, metres: number][] = [
  ["metres", 1],
  ["centimetres", 0.01],
  ["millimetres", 0.001],
  ["inches", 0.0254],
  ["feet", 0.3048],
];

/** What a scan's file says of its units, as one of those above. */
export function unitsOf(said: string | null): number | null {
  const words: [RegExp, number][] = [
    [/^(mm|milli)/i, 0.001],
    [/^(cm|centi)/i, 0.01],
    [/^(m$|met)/i, 1],
    [/^(in|")/i, 0.0254],
    [/^(ft|foot|feet|')/i, 0.3048],
  ];
  return said === null ? null : (words.find(([word]) => word.test(said.trim()))?.[1] ?? null);
}

/** A length as typed, with its unit or in that of the page; null where it can't be read or is none [m]. */
export function readLength(text: string, units: "metric" | "imperial"): number | null {
  const [, digits, unit] = /^\s*(\d+(?:[.,]\d+)?)\s*([a-z"']*)\s*$/i.exec(text) ?? [];
  if (digits === undefined) {
    return null;
  }
  const number = Number(digits.replace(",", "."));
  const each = unit === undefined || unit === "" ? (units === "imperial" ? 0.0254 : 0.001) : unitsOf(unit);
  return each === null || !(number > 0) ? null : number * each;
}

/** A place known in the boat that may be shown in the scan. */
export interface Known {
  name: string;
  at: P3;
  scan: P3 | null;
}

/** Those that are shown in both. */
export function pairsOf(known: readonly Known[]): ScanPair[] {
  return known.flatMap(({ name, at, scan }) => (scan === null ? [] : [{ name, bay: at, scan }]));
}

/** Why a scan can't be laid yet; null where it can. */
export function wants(pairs: readonly ScanPair[], unit: number | null, length: { a: P3 | null; b: P3 | null; long: number | null } | null): string | null {
  if (unit === null && (length === null || length.a === null || length.b === null || length.long === null)) {
    return "Say its unit, or one length in it that you know.";
  }
  return pairs.length < 3 ? `Show the same points in both: ${pairs.length} of 3.` : null;
}

/**
 * The pad of the survey: what the keys have built so far, and the text that it stands for.
 *
 * Nothing here measures or converts: the pad only writes down what a person reads off an instrument,
 * in the unit that the person chose. It needs no link, and no reader of quantities.
 */

/** What a box wants. */
export type PadKind = "length" | "height" | "pressure" | "pressure-at-temperature" | "temperature" | "number" | "quantity";

/** The keys that build a value. */
export type PadKey = "0" | "1" | "2" | "3" | "4" | "5" | "6" | "7" | "8" | "9" | "." | "/" | "gap" | "sign" | "at" | "rub out";

/** One number as it was pressed: a decimal, or the parts of a fraction. */
export interface Digits {
  /** Parts between strokes: one is whole or decimal, two are a fraction, three a whole and a fraction. */
  parts: string[];
  /** The first part is the whole of a whole and a fraction, however far the fraction has come. */
  gap?: boolean;
  /** Below the waterline. */
  below: boolean;
}

export interface Pad {
  kind: PadKind;
  first: Digits;
  /** The number after `@`; null until its key was pressed. */
  second: Digits | null;
  unit: string;
  unitOfSecond: string;
  /** What a person says instead of what the instrument brings: `0.5`; empty leaves it to the instrument. */
  sure: string;
}

/** The longest number that a person reads off anything. */
const MOST_DIGITS = 7;
/** Strokes on an inch tape. */
const STROKES = ["2", "4", "8", "16", "32", "64"];

const bare = (): Digits => ({ parts: [""], below: false });

/** Units to choose from by what is wanted, metric first; `quantity` takes those that the boat's computer names. */
export function unitsOf(kind: PadKind, named: readonly string[] = []): string[] {
  switch (kind) {
    case "length":
    case "height":
      return ["mm", "in"];
    case "pressure":
    case "pressure-at-temperature":
      return ["bar", "psi"];
    case "temperature":
      return ["°C", "°F"];
    case "number":
      return [""];
    case "quantity":
      return named.length > 0 ? [...named] : [""];
  }
}

/** The pad as it lies ready for a box. */
export function begin(kind: PadKind, unit?: string, named: readonly string[] = []): Pad {
  const units = unitsOf(kind, named);
  const own = unit !== undefined && units.includes(unit) ? unit : (units[0] ?? "");
  const imperial = own === "psi";
  return { kind, first: bare(), second: null, unit: own, unitOfSecond: imperial ? "°F" : "°C", sure: "" };
}

const isLength = (pad: Pad): boolean => pad.kind === "length" || pad.kind === "height";

/** Whether the pad writes fractions: only in inches. */
export const inches = (pad: Pad): boolean => pad.unit === "in" && isLength(pad);

/** The number that the next key goes to. */
const open = (pad: Pad): Digits => pad.second ?? pad.first;

/** Whether the number that is being written has anything in it. */
const begun = (digits: Digits): boolean => digits.parts.length > 1 || digits.parts[0] !== "";

/** Whether nothing was pressed yet. */
export const isEmpty = (pad: Pad): boolean => !begun(pad.first) && pad.second === null && !pad.first.below;

/** Whether a key does anything now; one that does not is drawn so, and pressing it changes nothing and says why. */
export function live(pad: Pad, key: PadKey): boolean {
  const now = open(pad);
  const last = now.parts[now.parts.length - 1] ?? "";
  switch (key) {
    case ".":
      // Strokes and a point exclude each other.
      return now.parts.length === 1 && !last.includes(".") && pad.kind !== "height";
    case "/":
      // In millimetres too: what was pressed stands there and is refused, not dropped.
      return isLength(pad) && now.parts.length < 3 && last !== "" && !last.includes(".");
    case "gap":
      return inches(pad) && now.parts.length === 1 && last !== "" && !last.includes(".");
    case "sign":
      return pad.kind === "height" || pad.kind === "temperature";
    case "at":
      return pad.kind === "pressure-at-temperature" && pad.second === null && complete(pad.first) === null;
    case "rub out":
      return !isEmpty(pad);
    default:
      return now.parts.join("").replace(".", "").length < MOST_DIGITS;
  }
}

/** Why a key does nothing now; null where it does something. */
export function deadWhy(pad: Pad, key: PadKey): string | null {
  if (live(pad, key)) return null;
  const now = open(pad);
  const last = now.parts[now.parts.length - 1] ?? "";
  switch (key) {
    case ".":
      return now.parts.length > 1 ? "A fraction takes no point." : "There is a point already.";
    case "/":
    case "gap":
      if (last.includes(".")) return "After a point comes no fraction.";
      if (key === "gap" && !inches(pad)) return "A whole and a fraction are for inches: press inch first.";
      return last === "" ? "A number comes before that." : "The fraction has both its numbers.";
    case "rub out":
      return "Nothing is written yet.";
    case "at":
      return "The pressure comes first.";
    case "sign":
      return "This value has no sign.";
    default:
      return `No reading has more than ${MOST_DIGITS} digits.`;
  }
}

function withOpen(pad: Pad, digits: Digits): Pad {
  return pad.second === null ? { ...pad, first: digits } : { ...pad, second: digits };
}

/** The pad after a key. */
export function press(pad: Pad, key: PadKey): Pad {
  if (!live(pad, key)) return pad;
  const now = open(pad);
  const parts = now.parts;
  const last = parts[parts.length - 1] ?? "";
  const inLast = (text: string): Digits => ({ ...now, parts: [...parts.slice(0, -1), text] });
  switch (key) {
    case "rub out": {
      if (last !== "") return withOpen(pad, inLast(last.slice(0, -1)));
      if (parts.length > 1) {
        const fewer = parts.slice(0, -1);
        return withOpen(pad, { ...now, parts: fewer, gap: now.gap === true && fewer.length > 1 });
      }
      if (pad.second !== null) return { ...pad, second: null };
      return { ...pad, first: bare() };
    }
    case "/":
      return withOpen(pad, { ...now, parts: [...parts, ""] });
    case "gap":
      return withOpen(pad, { ...now, parts: [...parts, ""], gap: true });
    case ".":
      return withOpen(pad, inLast(last === "" ? "0." : `${last}.`));
    case "sign":
      return withOpen(pad, { ...now, below: !now.below });
    case "at":
      return { ...pad, second: bare() };
    default:
      // A nought that leads nothing is written over: 0, 4 is 4.
      return withOpen(pad, inLast(last === "0" ? key : last + key));
  }
}

/** The pad with another unit of its list. What was pressed stays; what the unit can't write is refused when it is kept. */
export function withUnit(pad: Pad, unit: string): Pad {
  return pad.second === null ? { ...pad, unit } : { ...pad, unitOfSecond: unit };
}

/** Why a number is not whole yet; null where it can be kept. */
export function complete(digits: Digits): string | null {
  const parts = digits.parts;
  if (!begun(digits)) return "Nothing is written yet.";
  if (parts.some((part) => part === "")) return "The fraction is not whole yet.";
  if (digits.gap === true && parts.length === 2) return "The fraction is not whole yet: press / and the number under it.";
  if (parts.length === 1) return /^\d+\.$/.test(parts[0] ?? "") ? "Nothing stands after the point." : null;
  const [whole, over, under] = parts.length === 3 ? parts : ["", parts[0], parts[1]];
  if (over === undefined || under === undefined || whole === undefined) return "The fraction is not whole yet.";
  if (!STROKES.includes(under)) return `A tape has no strokes of 1/${under}: 2, 4, 8, 16, 32 or 64.`;
  if (Number(over) >= Number(under)) {
    const apart = parts.length === 2 && over.length > 1 ? ` For ${over.slice(0, -1)} ${over.slice(-1)}/${under} press ${over.slice(0, -1)}, gap, ${over.slice(-1)} / ${under}.` : "";
    return `${over}/${under} is 1 or more.${apart}`;
  }
  if (Number(over) === 0) return "Nothing stands over the stroke.";
  return null;
}

/** Why the value can't be kept yet; null where it can. */
export function wanting(pad: Pad): string | null {
  const first = complete(pad.first);
  if (pad.first.parts.length > 1 && !inches(pad)) return "Only inches have fractions: press inch, or rub the fraction out.";
  if (first !== null) return first;
  if (pad.kind === "pressure-at-temperature") {
    if (pad.second === null) return "Its temperature is still wanted: press @.";
    return complete(pad.second);
  }
  return null;
}

function number(digits: Digits, minus: string): string {
  const parts = digits.parts;
  const sign = digits.below ? minus : "";
  if (parts.length === 1) return sign + (parts[0] ?? "");
  if (parts.length === 2 && digits.gap === true) return `${sign}${parts[0] ?? ""} ${parts[1] ?? ""}`;
  if (parts.length === 2) return `${sign}${parts[0] ?? ""}/${parts[1] ?? ""}`;
  return `${sign}${parts[0] ?? ""} ${parts[1] ?? ""}/${parts[2] ?? ""}`;
}

const joined = (...words: string[]): string => words.filter((word) => word !== "").join(" ");

/** The text that goes over, unit and all, so that a bare number is never silent: `41.8 mm`, `1 5/8 in`, `41.8 ± 0.5 mm`. */
export function textOf(pad: Pad): string {
  const value = number(pad.first, "-");
  const sure = pad.sure === "" ? "" : `± ${pad.sure}`;
  const first = joined(value, sure, pad.unit);
  if (pad.second === null) return first;
  return `${first} @ ${joined(number(pad.second, "-"), pad.unitOfSecond)}`;
}

/** The same as it stands on the screen while it is written: an empty place for each digit that is due. */
export function shown(pad: Pad): { number: string; unit: string; fraction: { whole: string; over: string; under: string } | null } {
  const digits = open(pad);
  const before = pad.second === null ? "" : `${joined(number(pad.first, "−"), pad.unit)} @ `;
  const unit = pad.second === null ? pad.unit : pad.unitOfSecond;
  const sign = digits.below ? "−" : "";
  const parts = digits.parts;
  if (parts.length === 1) return { number: before + sign + (parts[0] ?? ""), unit, fraction: null };
  const [whole, over, under] = digits.gap === true || parts.length === 3 ? parts : ["", parts[0], parts[1]];
  return {
    number: before + sign,
    unit,
    fraction: { whole: whole ?? "", over: over ?? "", under: under ?? "" },
  };
}

const UNIT_WORDS: Record<string, [string, string]> = {
  mm: ["millimetre", "millimetres"],
  in: ["inch", "inches"],
  bar: ["bar", "bar"],
  psi: ["pound to the square inch", "pounds to the square inch"],
  "°C": ["degree Celsius", "degrees Celsius"],
  "°F": ["degree Fahrenheit", "degrees Fahrenheit"],
  L: ["litre", "litres"],
};

/** What the unit is called when it is read aloud. */
export function unitWord(unit: string, one = false): string {
  return UNIT_WORDS[unit]?.[one ? 0 : 1] ?? unit;
}

/** The value when it is read aloud: `41.8 millimetres`, `minus 410 millimetres`. */
export function spokenOf(pad: Pad): string {
  const aloud = (digits: Digits, unit: string): string => {
    const one = digits.parts.length === 2 || (digits.parts.length === 1 && digits.parts[0] === "1");
    return joined(number(digits, "minus "), unitWord(unit, one));
  };
  const first = aloud(pad.first, pad.unit);
  return pad.second === null ? first : `${first} at ${aloud(pad.second, pad.unitOfSecond)}`;
}

/** What a key is called when it is read aloud; a digit is called as it is written, so that it is found by what is seen. */
export function keyWord(key: PadKey): string {
  switch (key) {
    case ".":
      return "point";
    case "/":
      return "stroke of a fraction";
    case "gap":
      return "gap between whole inches and fraction, as in 1 5/8";
    case "sign":
      return "above or below";
    case "at":
      return "at the temperature";
    case "rub out":
      return "rub out";
    default:
      return key;
  }
}

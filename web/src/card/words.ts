/** How texts are cut up for the eye: fractions, numbers with their units. Nothing is reckoned. */

export type Part =
  | { kind: "text"; text: string }
  | { kind: "fraction"; whole: string; top: string; bottom: string }
  | { kind: "number"; number: string; unit: string }
  | { kind: "symbol"; letter: string; foot: string };

/** The units that stand after a number with a space that must not break. */
const UNITS =
  "mm|cm|m|in|ft|°C|°F|K|bar|mbar|kPa|psi|kW|hp|W|L|L/min|gal|US gal|rpm|m/s|kn|Nm|min|s|h|%|V|A|t|kg|g|mm²|m²";

const CUT = new RegExp(
  // A fraction of an inch, alone or after whole inches.
  String.raw`(?:(\d+)[ -])?\b(\d{1,2})/(2|4|8|16|32|64)\b|` +
    // A symbol of a formula: `d_s`; a key of the file has more than one letter before its line.
    String.raw`\b([A-Za-z])_([a-z0-9]{1,3})\b|` +
    // A number, its tolerance, and the unit of both; “1 in 100” is a chance, not an inch.
    String.raw`([−-]?\d[\d.,\u2009\u00a0]*(?:\s±\s\d[\d.,]*)?) (${UNITS.split("|").sort((a, b) => b.length - a.length).join("|")})(?![\w/]| \d)`,
  "g",
);

/** The parts of a text in order; put together again they are the text. */
export function parts(text: string): Part[] {
  const found: Part[] = [];
  let at = 0;
  const plain = (to: number) => {
    if (to > at) {
      found.push({ kind: "text", text: text.slice(at, to) });
    }
  };
  for (const hit of text.matchAll(CUT)) {
    plain(hit.index);
    const [all, whole, top, bottom, letter, foot, number, unit] = hit;
    if (top !== undefined && bottom !== undefined) {
      found.push({ kind: "fraction", whole: whole ?? "", top, bottom });
    } else if (letter !== undefined && foot !== undefined) {
      found.push({ kind: "symbol", letter, foot });
    } else {
      found.push({ kind: "number", number: number ?? "", unit: unit ?? "" });
    }
    at = hit.index + all.length;
  }
  plain(text.length);
  return found;
}

/** How a value looks by where it comes from. */
export type Look = "measured" | "assumed" | "guessed" | "computed" | "plain";

export function lookOf(from: string): Look {
  if (from === "assumed" || from === "guessed" || from === "computed") {
    return from;
  }
  return from.endsWith("guessed") ? "guessed" : "measured";
}

/** The first letter large, as a sentence begins. */
export function sentence(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** How the fields of a slip become the one text that the program reads, and back again. */

export interface Fields {
  number: string;
  unit: string;
  plusMinus: string;
  instrument: string;
}

/** What is taken as it is typed, whole. */
const WHOLE = /^(\?|choose)$/;

/**
 * The text for the program. A unit that was typed with the number beats that of the field; a
 * tolerance that was typed with it beats that of the field too.
 */
export function written(fields: Fields): string {
  const number = fields.number.trim().replace(/\+\s*-|\+\/-/, "±");
  if (number === "" || WHOLE.test(number)) {
    return number;
  }
  const typedUnit = /[a-z°%"]/i.test(number.replace(/\b(about|to)\b/gi, ""));
  const typedTolerance = number.includes("±");
  let text = number;
  if (fields.plusMinus.trim() !== "" && !typedTolerance) {
    text += ` ± ${fields.plusMinus.trim()}`;
  }
  if (!typedUnit && fields.unit !== "") {
    text += ` ${fields.unit}`;
  }
  if (fields.instrument === "girth") {
    // What is laid round is the girth; the program tells the diameter.
    return /\bpi$/.test(text) ? text : `${text} / pi`;
  }
  return fields.instrument === "" ? text : `${text} ${fields.instrument}`;
}

/** Cuts a text of the boat file into fields; what can't be cut stands whole in the first. */
export function split(
  text: string,
  units: readonly string[],
  instruments: readonly string[],
): Fields {
  let rest = text.trim();
  const fields: Fields = { number: rest, unit: "", plusMinus: "", instrument: "" };
  if (/\/\s*pi$/.test(rest)) {
    fields.instrument = "girth";
    rest = rest.replace(/\s*\/\s*pi$/, "");
  } else {
    const word = instruments.find((name) => rest.endsWith(` ${name}`));
    if (word !== undefined) {
      fields.instrument = word;
      rest = rest.slice(0, -word.length - 1).trim();
    }
  }
  const unit = [...units]
    .sort((a, b) => b.length - a.length)
    .find((name) => rest.endsWith(name) && /[\d\s"]/.test(rest.at(-name.length - 1) ?? "x"));
  if (unit !== undefined) {
    fields.unit = unit;
    rest = rest.slice(0, -unit.length).trim();
  }
  const [value, plusMinus, more] = rest.split("±").map((part) => part.trim());
  if (value === undefined || more !== undefined || !/^[-−]?\d[\d.,/ -]*$/.test(value)) {
    return { number: text.trim(), unit: "", plusMinus: "", instrument: "" };
  }
  return { ...fields, number: value, plusMinus: plusMinus ?? "" };
}

/**
 * A value that can be written on: it stands on a ruled line, and a press opens a slip in its place.
 * What was measured, assumed, guessed or reckoned never looks alike.
 */
import { useState, type ReactNode } from "react";
import { usePage, useShut } from "../state";
import { Says } from "./says";
import { SlipForm } from "./slip";
import { lookOf } from "./words";

export interface RuledProps {
  /** Way of keys to the value in the boat file. */
  place: string;
  /** What it is: `outside, behind the bead`. */
  name: string;
  /** As the program words it; null where nothing stands in the file. */
  text: string | null;
  plusMinus?: string | null;
  /** Instrument, or whence it comes; empty says nothing. */
  from?: string;
  /** The slip is open from the first. */
  opened?: boolean;
}

/** Two spigots alike are typed in one place of the file, and change there. */
const both = (place: string): string => place.replace(/\.spigots\.[ab](?=\.|$)/, ".spigots.both");

export function Ruled({ place, name, text, plusMinus = null, from = "", opened = false }: RuledProps) {
  const [open, setOpen] = useState(opened);
  const shut = useShut();
  const changed = usePage((state) => state.page?.changed.find((one) => one.place === place || one.place === both(place)));
  if (open) {
    return <SlipForm place={place} how={null} close={() => setOpen(false)} />;
  }
  return (
    <span className={changed ? "ruled-line changed" : "ruled-line"}>
      <button
        type="button"
        className="ruled"
        disabled={shut}
        data-ruled={place}
        aria-label={`${name}: ${text ?? "not looked yet"}${plusMinus === null ? "" : ` ± ${plusMinus}`}${from === "" ? "" : `, ${from}`}. Write another value.`}
        onClick={() => setOpen(true)}
      >
        <Look text={text} plusMinus={plusMinus} from={from} />
      </button>
      {changed && <span className="soft at"> {changed.at}</span>}
    </span>
  );
}

/** A value as it looks by where it comes from; it can't be pressed. */
export function Look({ text, plusMinus, from }: LookProps): ReactNode {
  if (text === null) {
    return <span className="box empty" />;
  }
  const figure = (
    <>
      <Says text={text} />
      {plusMinus !== null && (
        <>
          {" ± "}
          <Says text={plusMinus} />
        </>
      )}
    </>
  );
  switch (lookOf(from)) {
    case "assumed":
    case "guessed":
      return (
        <span className="box assumed">
          <i>({figure})</i>
        </span>
      );
    case "computed":
      return <span>= {figure}</span>;
    default:
      return <span>{figure}</span>;
  }
}
interface LookProps {
  text: string | null;
  plusMinus: string | null;
  from: string;
}

/** Texts of the program, set for the eye. */
import type { ReactNode } from "react";
import { parts } from "./words";

/** A text with its fractions raised and lowered, and its units held to their numbers. */
export function Says({ text }: { text: string }): ReactNode {
  return parts(text).map((part, at) => {
    switch (part.kind) {
      case "text":
        return part.text;
      case "number":
        return (
          <span className="number" key={at}>
            {part.number}
            {"\u00a0"}
            {part.unit}
          </span>
        );
      case "symbol":
        return (
          <span className="number" key={at}>
            {part.letter}
            <sub>{part.foot}</sub>
          </span>
        );
      case "fraction": {
        const spoken = `${part.whole === "" ? "" : `${part.whole} `}${part.top}/${part.bottom}`;
        return (
          <span className="number" key={at}>
            <span className="unseen">{spoken}</span>
            <span aria-hidden="true">
              {part.whole}
              <sup>{part.top}</sup>⁄<sub>{part.bottom}</sub>
            </span>
          </span>
        );
      }
    }
  });
}

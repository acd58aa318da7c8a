/** What of the bay goes on paper: the picture that is on view lends itself to the print. */
import type { ReactNode } from "react";

export interface BayOnPaper {
  /** The ink, as an image. */
  image: string;
  width: number;
  height: number;
  /** The words over it. */
  words: ReactNode;
}

let now: (() => BayOnPaper) | null = null;

/** Offers a picture for print; gives back how to withdraw it. */
export function paperBay(give: () => BayOnPaper): () => void {
  now = give;
  return () => {
    if (now === give) {
      now = null;
    }
  };
}

/** The picture on view, black on white; null where none is. */
export const bayOnPaper = (): BayOnPaper | null => now?.() ?? null;

/** Survey: the pad in the hand, the list at the desk. */
import { useSyncExternalStore } from "react";

import type { Page } from "../sent";
import { SurveyPad } from "../phone/survey-pad";
import { Survey } from "./survey";

/** A phone held either way, or a sheet that is zoomed until no more stands beside it: where the frame lays out for a hand. */
const HAND = "(max-width: 699px), (max-height: 559px)";

function follow(look: () => void): () => void {
  const query = matchMedia(HAND);
  query.addEventListener("change", look);
  return () => query.removeEventListener("change", look);
}

export function SurveyChapter({ page }: { page: Page }) {
  const hand = useSyncExternalStore(follow, () => matchMedia(HAND).matches);
  return hand && page.boat !== null ? <SurveyPad page={page} /> : <Survey page={page} />;
}

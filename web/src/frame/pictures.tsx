/** The pictures' field: the loop drawing, or what the chapter lays in front of it. */
import { useEffect, useRef } from "react";
import { chapters } from "../chapters";
import { BayFront } from "../chapters/route";
import { Loop } from "../loop/loop";
import { chapterOf, setFront, usePage, type Front } from "../state";
import { frontOf } from "./size";

export function useFront(): Front {
  const chapter = usePage((state) => state.chapter);
  const own = usePage((state) => state.fronts[state.chapter]);
  const none = usePage((state) => state.page !== null && state.page.boat === null);
  const bay = useHasBay();
  const front = none ? "sheet" : frontOf(own, chapter);
  // Without a bay to draw, the sheet of the chapter says why, and elsewhere the loop stands in its place.
  return front === "bay" && !bay ? (chapter === "route" ? "sheet" : "loop") : front;
}

/** Whether the program lays out the bay. */
export function useHasBay(): boolean {
  return usePage((state) => state.page?.boat != null && chapterOf(state.page, "route")?.ready === true);
}

export function Pictures() {
  const answer = usePage((state) => state.page);
  const chapter = usePage((state) => state.chapter);
  const front = useFront();
  const own = chapterOf(answer, chapter);
  const title = own?.title ?? "Sheet";
  const bay = useHasBay();
  // The sheet of Route is the bay with its tables under it.
  const two = chapter === "route" && bay;
  return (
    <section className={`pictures front-${front}`} aria-label="Pictures">
      {answer?.boat && (
        <div className="fronts" role="group" aria-label="What stands in front">
          {bay && (
            <button type="button" aria-pressed={front === "bay"} onClick={() => setFront("bay")}>
              bay
            </button>
          )}
          <button type="button" aria-pressed={front === "loop"} onClick={() => setFront("loop")}>
            loop
          </button>
          {!two && (
            <button type="button" aria-pressed={front === "sheet"} onClick={() => setFront("sheet")}>
              {title.toLowerCase()} sheet
            </button>
          )}
          <span className="soft said">{front === "sheet" ? own?.question : front === "loop" ? "not to scale" : "to scale"}</span>
        </div>
      )}
      {front === "sheet" || (front === "bay" && two) ? <ChapterSheet /> : front === "bay" ? <BayFront /> : <Loop />}
    </section>
  );
}

/** The body of the open chapter. */
export function ChapterSheet() {
  const answer = usePage((state) => state.page);
  const chapter = usePage((state) => state.chapter);
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    box.current?.scrollTo({ top: 0 });
  }, [chapter]);
  const Sheet = chapters[chapter];
  const name = chapterOf(answer, chapter)?.title ?? "Sheet";
  return (
    <div className="chapter-sheet" ref={box} tabIndex={0} role="region" aria-label={`${name} sheet`}>
      {answer && Sheet ? <Sheet page={answer} /> : <p className="soft coming">sheet coming</p>}
    </div>
  );
}

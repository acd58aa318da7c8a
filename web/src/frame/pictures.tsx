/** The pictures' field: the loop drawing, or what the chapter lays in front of it. */
import { useEffect, useRef } from "react";
import { chapters } from "../chapters";
import { Loop } from "../loop/loop";
import { chapterOf, setFront, usePage, type Front } from "../state";
import { frontOf } from "./size";

export function useFront(): Front {
  const chapter = usePage((state) => state.chapter);
  const own = usePage((state) => state.fronts[state.chapter]);
  const none = usePage((state) => state.page !== null && state.page.boat === null);
  return none ? "sheet" : frontOf(own, chapter);
}

export function Pictures() {
  const answer = usePage((state) => state.page);
  const chapter = usePage((state) => state.chapter);
  const front = useFront();
  const own = chapterOf(answer, chapter);
  const title = own?.title ?? "Sheet";
  return (
    <section className={`pictures front-${front}`} aria-label="Pictures">
      {answer?.boat && (
        <div className="fronts" role="group" aria-label="What stands in front">
          <button type="button" aria-pressed={front !== "sheet"} onClick={() => setFront("loop")}>
            loop
          </button>
          <button type="button" aria-pressed={front === "sheet"} onClick={() => setFront("sheet")}>
            {title.toLowerCase()} sheet
          </button>
          <span className="soft said">{front === "sheet" ? own?.question : "not to scale; the bay in space is not drawn yet"}</span>
        </div>
      )}
      {front === "sheet" ? <ChapterSheet /> : <Loop />}
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

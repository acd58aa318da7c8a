/** The sheet in the hand: one column, four keys at the foot. Survey and Get home bring their own. */
import { useEffect, useState } from "react";
import { chapters } from "../chapters";
import { BayFront } from "../chapters/route";
import { Loop } from "../loop/loop";
import { Foot, type FootKey } from "../phone";
import { chapterOf, setFront, setNight, usePage } from "../state";
import { Strip } from "../strip/strip";
import { Column } from "./column";
import { Edge } from "./edge";
import { Choices } from "./head";
import { ChapterSheet, useFront, useHasBay } from "./pictures";

/** Chapters that fill the phone with their own keys. */
const OWN = new Set(["survey", "home"]);

export function Hand() {
  const answer = usePage((state) => state.page);
  const chapter = usePage((state) => state.chapter);
  const chosen = usePage((state) => state.chosen);
  const verdict = usePage((state) => state.verdict);
  const night = usePage((state) => state.night);
  const [pane, setPane] = useState<FootKey>("next");
  // What is opened in a picture or a list is looked at in the verdicts.
  useEffect(() => {
    if (verdict !== null) {
      setPane((now) => (now === "pictures" ? now : "verdicts"));
    }
  }, [verdict]);
  useEffect(() => setPane((now) => (now === "chapters" ? "next" : now)), [chapter]);

  const bay = useHasBay();
  const inFront = useFront() === "bay" ? "bay" : "loop";
  const Own = chapters[chapter];
  if (answer?.boat && OWN.has(chapter) && Own) {
    return (
      <main className="hand own">
        <Own page={answer} />
      </main>
    );
  }
  const title = chapterOf(answer, chapter)?.title ?? "Hosewright";
  const at = answer?.boat ? pane : null;
  return (
    <div className="hand">
      <header className="hand-head">
        <h1>
          {title}
          {chosen !== null && pane !== "next" && <span className="soft"> · {chosen}</span>}
        </h1>
        <button type="button" aria-pressed={night} onClick={() => setNight(!night)}>
          red light
        </button>
      </header>
      <main className={`hand-body ${at ?? "none"}`} id="loop" tabIndex={-1}>
        {at === null || at === "next" ? (
          <>
            {chapter === "route" && bay && <BayFront />}
            <Column part="next" />
            <ChapterSheet />
          </>
        ) : at === "verdicts" ? (
          <Column part="list" />
        ) : at === "pictures" ? (
          <>
            <Choices />
            <Strip form="half" />
            <div className={`pictures front-${inFront}`}>
              {bay && (
                <div className="fronts" role="group" aria-label="What stands in front">
                  {(["bay", "loop"] as const).map((one) => (
                    <button type="button" key={one} aria-pressed={inFront === one} onClick={() => setFront(one)}>
                      {one}
                    </button>
                  ))}
                </div>
              )}
              {inFront === "bay" ? <BayFront /> : <Loop />}
            </div>
          </>
        ) : (
          <Edge close={() => setPane("next")} />
        )}
      </main>
      {at !== null && <Foot at={at} onKey={setPane} />}
    </div>
  );
}

/** The open chapter as one sheet of paper: black only, the working unfolded, nothing to press. */
import { useEffect, useState } from "react";
import { api } from "../api";
import type { Drawing } from "../sent";
import { GradeWord } from "../card/grade";
import { Margin } from "../card/margin";
import { Says } from "../card/says";
import { WorkingOf } from "../card/working";
import { Caution } from "../card/card";
import { chapterOf, heed, page, usePage, useText } from "../state";
import { store, useStoreOf } from "../store";
import { Paint } from "../strip/paint";
import { bayOnPaper, type BayOnPaper } from "../bay/paper";
import { among } from "./column";

/** Width of the strip on paper [px]: that of a page between its margins. */
const WIDE = 680;

const paper = store<{ strip: Drawing | null; bay: BayOnPaper | null }>({ strip: null, bay: null });

/** Lays the chapter out for paper, then hands it to the browser's printing. */
export async function print(): Promise<void> {
  const { arrangement, state, chapter, units } = page.get();
  try {
    const strip = await api.strip({
      arrangement,
      state,
      chapter,
      units,
      width: WIDE,
      form: "tall",
      least: 0,
      level: false,
    });
    paper.set({ strip, bay: bayOnPaper() });
  } catch (fault) {
    heed(fault);
  }
  page.set({ printing: true });
  // One frame to lay it out, one to paint it.
  requestAnimationFrame(() =>
    requestAnimationFrame(() => {
      window.print();
    }),
  );
}

export function Printout() {
  const printing = usePage((state) => state.printing);
  const [asked, setAsked] = useState(false);
  useEffect(() => {
    // Printing from the browser's own menu has no time to ask for the strip.
    const before = () => setAsked(true);
    const after = () => {
      setAsked(false);
      page.set({ printing: false });
    };
    addEventListener("beforeprint", before);
    addEventListener("afterprint", after);
    return () => {
      removeEventListener("beforeprint", before);
      removeEventListener("afterprint", after);
    };
  }, []);
  return printing || asked ? <Paper /> : null;
}

function Paper() {
  const text = useText();
  const answer = usePage((state) => state.page);
  const chapter = usePage((state) => state.chapter);
  const arrangement = usePage((state) => state.arrangement);
  const strip = useStoreOf(paper, (state) => state.strip);
  const bay = useStoreOf(paper, (state) => state.bay);
  if (!answer?.boat) {
    return null;
  }
  const own = chapterOf(answer, chapter);
  const open = among(answer, chapter).filter((verdict) => verdict.grade !== "sound");
  const sound = among(answer, chapter).length - open.length;
  return (
    <article className="printout" aria-hidden="true">
      <header>
        <h1>{own?.title}</h1>
        <p>{own?.question}</p>
      </header>
      {bay && (
        <svg className="drawing" width={bay.width} height={bay.height} viewBox={`0 0 ${bay.width} ${bay.height}`}>
          <image href={bay.image} width={bay.width} height={bay.height} />
          {bay.words}
        </svg>
      )}
      {strip && (
        <svg className="drawing" width={strip.width} height={strip.height} viewBox={`0 0 ${strip.width} ${strip.height}`}>
          <Paint drawing={strip} chosen={null} />
        </svg>
      )}
      {open.map((verdict) => (
        <section key={verdict.id}>
          <h2>
            <GradeWord grade={verdict.grade} /> · {verdict.title}
          </h2>
          <Caution text={verdict.caution} />
          <p>
            <Says text={text(verdict.because)} /> <Says text={text(verdict.remedy)} />
          </p>
          {verdict.settles && <p>{verdict.settles.how}</p>}
          {verdict.on_line && <Margin line={verdict.on_line} grade={verdict.grade} />}
          <WorkingOf working={verdict.working} print />
        </section>
      ))}
      <p>
        {open.length === 0 && "Nothing unsound here. "}
        {sound} sound.
      </p>
      <footer>
        {answer.boat.name} · {own?.title}
        {arrangement !== null && ` · ${arrangement}`} · file {answer.boat.hash}, kept {answer.boat.kept} · ± = sure
        it lies between
      </footer>
    </article>
  );
}

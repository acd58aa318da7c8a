/** The sheet. */
import { useEffect } from "react";
import { Column } from "./frame/column";
import { Edge } from "./frame/edge";
import { Head } from "./frame/head";
import { onKey } from "./frame/keys";
import { Leader } from "./frame/leader";
import { Over } from "./frame/over";
import { Hand } from "./frame/phone";
import { Pictures } from "./frame/pictures";
import { Printout } from "./frame/printout";
import { formOf, layoutOf, useWindow } from "./frame/size";
import { TitleBlock } from "./frame/title";
import { page, usePage } from "./state";
import { Strip } from "./strip/strip";

export function App() {
  const [width, height] = useWindow();
  const layout = layoutOf(width, height);
  const own = usePage((state) => state.form);
  const chapter = usePage((state) => state.chapter);
  const form = formOf(own, layout, height, chapter);
  const soft = usePage((state) => state.gone || state.page?.locked != null);
  const said = usePage((state) => state.said);
  const none = usePage((state) => state.page !== null && state.page.boat === null);
  const blink = usePage((state) => state.blink);
  const trial = usePage((state) => state.trial !== null);

  useEffect(() => {
    addEventListener("keydown", onKey);
    return () => removeEventListener("keydown", onKey);
  }, []);
  useEffect(() => {
    if (blink.length > 0) {
      const done = setTimeout(() => page.set({ blink: [] }), 300);
      return () => clearTimeout(done);
    }
    return undefined;
  }, [blink]);

  const name = [layout, form, soft ? "soft-sheet" : "", none ? "no-boat" : "", trial ? "with-trial" : ""];
  return (
    <>
      <div className={`whole ${name.filter(Boolean).join(" ")}`}>
        {layout === "phone" ? (
          <Hand />
        ) : (
          <>
            {!none && (
              <a className="skip" href="#loop" onClick={toLoop}>
                To the loop
              </a>
            )}
            <Head />
            <main className="fields">
              <Column />
              {form !== "tall" && <Pictures />}
              {!none && <Strip form={form} />}
            </main>
            <TitleBlock />
            <Edge />
            <Leader />
          </>
        )}
        <Over />
        <p className="unseen" role="status" aria-live="polite">
          {said}
        </p>
      </div>
      <Printout />
    </>
  );
}

/** The fragment of the address belongs to chapter and mark; the link only moves the focus. */
function toLoop(event: { preventDefault: () => void }): void {
  event.preventDefault();
  const loop = document.getElementById("loop");
  (loop?.querySelector<HTMLElement>('[data-mark][tabindex="0"]') ?? loop)?.focus();
}

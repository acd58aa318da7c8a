/** Route: the bay in space, and under it what is known of every run and clip. The drawing itself comes late. */
import { useEffect, useState } from "react";

import type { Page } from "../sent";
import { layoutOf, useWindow } from "../frame/size";
import { Loop } from "../loop/loop";
import { chapterOf, usePage } from "../state";
import { Body } from "./parts";

type Late = typeof import("../bay/sheet");

let late: Promise<Late> | null = null;
/** Asked for once; where it did not come, again the next time. */
function fetchLate(): Promise<Late> {
  late ??= import("../bay/sheet").catch((why: unknown) => {
    late = null;
    throw why;
  });
  return late;
}

function useLate(): Late | null {
  const [got, setGot] = useState<Late | null>(null);
  const returns = usePage((state) => state.returns);
  useEffect(() => {
    let wanted = true;
    fetchLate().then(
      (module) => wanted && setGot(module),
      // Nobody answers: the sheet says so, and asks again when somebody does.
      () => undefined,
    );
    return () => {
      wanted = false;
    };
  }, [returns]);
  return got;
}

/** The bay; until it can be drawn the loop stands in its field. */
export function BayFront() {
  const module = useLate();
  if (module) {
    return <module.BayPicture />;
  }
  return (
    <div className="bay">
      <div className="bay-box">
        <Loop />
      </div>
      <p className="bay-foot">bay coming; until then the loop, not to scale</p>
    </div>
  );
}

export function Route({ page }: { page: Page }) {
  const own = chapterOf(page, "route");
  const [width, height] = useWindow();
  const module = useLate();
  if (own?.ready !== true) {
    return (
      <div className="chapter chapter-route">
        <p className="chapter-why">{own?.why ?? ""}</p>
        <p className="soft">{own?.state ?? ""}</p>
      </div>
    );
  }
  return (
    <>
      {/* In the hand the drawing stands over the next act. */}
      {layoutOf(width, height) !== "phone" && <BayFront />}
      <Body page={page} chapter="route">
        {module ? <module.RouteTables /> : <p className="soft">Runs and clips coming</p>}
      </Body>
    </>
  );
}

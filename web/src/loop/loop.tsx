/** The loop drawing: engine left, cooler right, not to scale. */
import { useLayoutEffect, useRef, useState, type KeyboardEvent, type MouseEvent } from "react";
import { api } from "../api";
import type { LoopAsk } from "../sent";
import { markOf, usePage } from "../state";
import { useDrawn } from "../strip/ask";
import { Paint } from "../strip/paint";
import { pickAny, walk } from "../strip/strip";

/** The drawing is shown so much smaller at most, to be seen whole: its words can still be read. */
const LEAST = 0.8;

export function Loop() {
  const box = useRef<HTMLDivElement>(null);
  const [size, setSize] = useState<[number, number]>([0, 0]);
  const has = usePage((state) => state.page?.boat != null);
  const arrangement = usePage((state) => state.arrangement);
  const state = usePage((now) => now.state);
  const units = usePage((now) => now.units);
  const chosen = usePage((now) => markOf(now.page, now.chosen)?.key ?? null);

  useLayoutEffect(() => {
    const one = box.current;
    if (!one) {
      return;
    }
    const measure = () => setSize([one.clientWidth, one.clientHeight]);
    const look = new ResizeObserver(measure);
    look.observe(one);
    measure();
    return () => look.disconnect();
  }, []);

  const [width, height] = size;
  const asked: LoopAsk | null = has && width >= 80 && height >= 80 ? { arrangement, state, width, height, units } : null;
  const drawing = useDrawn(asked, api.loop)?.drawing ?? null;

  const onClick = (event: MouseEvent) => {
    const key = (event.target as Element).closest("[data-key]")?.getAttribute("data-key");
    if (key != null) {
      pickAny(key);
    }
  };
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key === "ArrowRight" || event.key === "ArrowLeft") {
      event.preventDefault();
      walk(event.key === "ArrowRight" ? 1 : -1);
    }
  };

  const fit = drawing ? Math.max(LEAST, Math.min(1, height / drawing.height)) : 1;
  return (
    <div className="loop-box" ref={box}>
      {drawing ? (
        <svg
          className="drawing loop-drawing"
          width={fit * drawing.width}
          height={fit * drawing.height}
          viewBox={`0 0 ${drawing.width} ${drawing.height}`}
          role="img"
          aria-label={`${drawing.spoken}; marks are in the strip`}
          tabIndex={0}
          onClick={onClick}
          onKeyDown={onKeyDown}
        >
          <Paint drawing={drawing} chosen={chosen} />
        </svg>
      ) : (
        <p className="soft coming">loop coming</p>
      )}
    </div>
  );
}

/** The loop drawing: engine left, cooler right, not to scale. */
import { useEffect, useLayoutEffect, useRef, useState, type KeyboardEvent, type MouseEvent } from "react";
import { api, latest } from "../api";
import type { Drawing, LoopAsk } from "../sent";
import { heed, markOf, usePage } from "../state";
import { Paint } from "../strip/paint";
import { pickAny, walk } from "../strip/strip";

/** The drawing is shown so much smaller at most, to be seen whole: its words can still be read. */
const LEAST = 0.8;

export function Loop() {
  const box = useRef<HTMLDivElement>(null);
  const [size, setSize] = useState<[number, number]>([0, 0]);
  const [drawing, setDrawing] = useState<Drawing | null>(null);
  const number = usePage((state) => state.page?.number ?? 0);
  const settled = usePage((state) => state.page?.settled ?? false);
  const has = usePage((state) => state.page?.boat != null);
  const arrangement = usePage((state) => state.arrangement);
  const state = usePage((now) => now.state);
  const units = usePage((now) => now.units);
  const chosen = usePage((now) => markOf(now.page, now.chosen)?.key ?? null);
  const [fetch] = useState(() =>
    latest((signal: AbortSignal, asked: LoopAsk) => api.loop(asked, signal)),
  );

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
  useEffect(() => {
    if (has && width >= 80 && height >= 80) {
      fetch({ arrangement, state, width, height, units }).then(setDrawing, heed);
    }
  }, [fetch, has, number, settled, arrangement, state, units, width, height]);

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
      {drawing && has ? (
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

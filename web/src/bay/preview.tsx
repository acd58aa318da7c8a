/** A scan as it came, as points: turned by hand; a press is a line of sight, along which the program looks. */
import { useEffect, useMemo, useRef, useState, type KeyboardEvent, type PointerEvent } from "react";
import { usePage } from "../state";
import { fitted, flat, looking, nearer, turn, type Size, type View } from "./camera";
import type { P3 } from "./form";
import { rayOf } from "./pairs";
import { times } from "./space";

export interface Spot {
  name: string;
  at: P3;
}

/** `long` of its numbers are a metre in the picture, so that it stands alike whatever its unit. */
export function Preview({ points: raw, long, spots: marked, onPick }: { points: readonly number[]; long: number; spots: readonly Spot[]; onPick: (ray: ReturnType<typeof rayOf>) => void }) {
  const points = useMemo(() => raw.map((value) => value / long), [raw, long]);
  const spots = marked.map(({ name, at }) => ({ name, at: times(at, 1 / long) }));
  const canvas = useRef<HTMLCanvasElement>(null);
  const [size, setSize] = useState<Size>({ width: 0, height: 0 });
  const [view, setView] = useState<View | null>(null);
  // Inks change with the night.
  usePage((state) => state.night);
  useEffect(() => {
    const one = canvas.current;
    if (!one) {
      return;
    }
    const look = new ResizeObserver(() => setSize({ width: one.clientWidth, height: one.clientHeight }));
    look.observe(one);
    return () => look.disconnect();
  }, []);
  useEffect(() => {
    if (size.width > 10) {
      setView((now) => now ?? fitted(looking([0.5, 0.6, -0.62], [0, 0, 1]), thinned(points), size, 16));
    }
  }, [points, size]);
  useEffect(() => {
    const one = canvas.current;
    const pen = one?.getContext("2d");
    if (one && pen && view) {
      paint(one, pen, points, spots, view, size);
    }
  });

  const held = useRef<{ x: number; y: number; moved: number } | null>(null);
  const onMove = (event: PointerEvent) => {
    const was = held.current;
    if (was) {
      const [dx, dy] = [event.clientX - was.x, event.clientY - was.y];
      held.current = { x: event.clientX, y: event.clientY, moved: was.moved + Math.hypot(dx, dy) };
      setView((now) => now && turn(now, dx / 160, dy / 160));
    }
  };
  const onUp = (event: PointerEvent) => {
    const was = held.current;
    held.current = null;
    if (was && was.moved < 5 && view && canvas.current) {
      const { left, top } = canvas.current.getBoundingClientRect();
      onPick(rayOf(view, size, event.clientX - left, event.clientY - top, long));
    }
  };
  const onKey = (event: KeyboardEvent) => {
    const side = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    const by = { "+": 1.3, "=": 1.3, "-": 1 / 1.3 }[event.key];
    if (!side && by === undefined) {
      return;
    }
    event.preventDefault();
    event.stopPropagation();
    setView((now) => now && (by === undefined ? turn(now, ((side?.[0] ?? 0) * Math.PI) / 12, ((side?.[1] ?? 0) * Math.PI) / 12) : nearer(now, size, by)));
  };
  return (
    <>
      <canvas
        ref={canvas}
        className="scan-preview"
        role="img"
        aria-label={`The scan as it came, ${points.length / 3} of its points. Its places can be typed below.`}
        tabIndex={0}
        onKeyDown={onKey}
        onPointerDown={(event) => {
          event.currentTarget.setPointerCapture(event.pointerId);
          held.current = { x: event.clientX, y: event.clientY, moved: 0 };
        }}
        onPointerMove={onMove}
        onPointerUp={onUp}
      />
      <p className="words" role="group" aria-label="Move the scan">
        {(
          [
            ["turn left", (now: View) => turn(now, -Math.PI / 12, 0)],
            ["turn right", (now: View) => turn(now, Math.PI / 12, 0)],
            ["tip up", (now: View) => turn(now, 0, -Math.PI / 12)],
            ["tip down", (now: View) => turn(now, 0, Math.PI / 12)],
            ["nearer", (now: View) => nearer(now, size, 1.3)],
            ["farther", (now: View) => nearer(now, size, 1 / 1.3)],
          ] as const
        ).map(([word, change]) => (
          <button type="button" key={word} onClick={() => setView((now) => now && change(now))}>
            {word}
          </button>
        ))}
      </p>
    </>
  );
}

function thinned(points: readonly number[]): P3[] {
  const out: P3[] = [];
  const step = Math.max(1, Math.floor(points.length / 3 / 2000)) * 3;
  for (let i = 0; i + 2 < points.length; i += step) {
    out.push([points[i] ?? 0, points[i + 1] ?? 0, points[i + 2] ?? 0]);
  }
  return out;
}

function paint(canvas: HTMLCanvasElement, pen: CanvasRenderingContext2D, points: readonly number[], spots: readonly Spot[], view: View, size: Size): void {
  const ratio = window.devicePixelRatio;
  canvas.width = Math.round(size.width * ratio);
  canvas.height = Math.round(size.height * ratio);
  pen.scale(ratio, ratio);
  const ink = getComputedStyle(canvas);
  pen.fillStyle = ink.getPropertyValue("border-color") || ink.color;
  for (let i = 0; i + 2 < points.length; i += 3) {
    const { x, y } = flat(view, size, [points[i] ?? 0, points[i + 1] ?? 0, points[i + 2] ?? 0]);
    pen.fillRect(x, y, 1.2, 1.2);
  }
  pen.fillStyle = pen.strokeStyle = ink.color;
  pen.font = '700 12px B612, "DejaVu Sans", sans-serif';
  pen.lineWidth = 1.5;
  for (const spot of spots) {
    const { x, y } = flat(view, size, spot.at);
    pen.beginPath();
    pen.moveTo(x - 7, y);
    pen.lineTo(x + 7, y);
    pen.moveTo(x, y - 7);
    pen.lineTo(x, y + 7);
    pen.stroke();
    pen.fillText(spot.name, x + 9, y - 5);
  }
}

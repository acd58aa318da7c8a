/** Words, figures and signs over the picture: flat, of one size, each on a halo of the sheet. */
import { memo, useLayoutEffect, useMemo, useRef, type ReactNode } from "react";
import { Shape } from "../card/grade";
import { flat, isBehindEye, type Size, type View } from "./camera";
import { dimension, levelSign } from "./dimension";
import type { Bay } from "./form";
import { carried, setLabels, type Set as Placed, type Wanted } from "./labels";
import { isFigured, named, type Named } from "./marks";
import { signOf } from "./waterline";
import { isCut, type Plane } from "./section";
import type { End } from "./store";

const HIGH = 16;
/** What is named at its upper face is looked at from just over it [m]. */
const ABOVE = 0.002;
let pen: CanvasRenderingContext2D | null | undefined;
const widths = new Map<string, number>();

/** How wide words are, as the browser sets them [px]. */
function wide(text: string, bold: boolean): number {
  const name = `${bold} ${text}`;
  const had = widths.get(name);
  if (had !== undefined) {
    return had;
  }
  const own = setWide(text, bold);
  // Until the sheet's own type has come the words are set in another.
  if (document.fonts.status === "loaded") {
    widths.set(name, own);
  }
  return own;
}

function setWide(text: string, bold: boolean): number {
  pen ??= document.createElement("canvas").getContext("2d");
  if (!pen) {
    return text.length * 7.5;
  }
  pen.font = `${bold ? "700 " : ""}12px B612, "Hosewright Signs", "DejaVu Sans", sans-serif`;
  return pen.measureText(text).width;
}

const SHAPES: Record<string, number> = { unsound: 18, marginal: 12, unmeasured: 10, sound: 8 };

export interface OverlayProps {
  bay: Bay;
  view: View;
  size: Size;
  plane: Plane | null;
  chosen: string | null;
  keepOuts: boolean;
  ends: readonly End[];
  measured: string | null;
  /** A hand has hold of the picture: only marks go along with it. */
  moving?: boolean;
  /** Whether something stands before a named thing; known at rest only. */
  hidden: ReadonlySet<string>;
}

export function Overlay({ bay, view, size, plane, chosen, keepOuts, ends, measured, hidden, moving = false }: OverlayProps): ReactNode {
  const words = useMemo(() => named(bay, { chosen, keepOuts }), [bay, chosen, keepOuts]);
  const rested = useRef<ReadonlyMap<string, Placed>>(new Map());
  const all = words.filter((one) => (!moving || one.key !== null) && !(one.rank === "name" && hidden.has(one.id)) && (one.rank === "chosen" || !(isCut(plane, one.at) || isBehindEye(view, one.at))));
  const by = new Map(all.map((one) => [one.id, one]));
  const wanted: Wanted[] = all.map((one) => {
    const { x, y } = flat(view, size, one.at);
    const shape = one.grade ? (SHAPES[one.grade] ?? 8) + 4 : 0;
    return { id: one.id, rank: one.rank, x, y, width: Math.ceil(wide(one.text, one.bold)) + shape + 4, height: HIGH };
  });
  const sign = signOf(bay, view, size);
  const taken = sign ? [{ left: sign.x - 8, top: sign.y - 11, right: sign.x + 8, bottom: sign.y + 9 }] : [];
  const ending = ends.map((end) => ({ ...end, ...flat(view, size, end.at) }));
  const [a, b] = ending;
  if (a && b && measured !== null) {
    wanted.unshift({ id: "measured", rank: "chosen", x: (a.x + b.x) / 2, y: (a.y + b.y) / 2, width: Math.ceil(wide(measured, true)) + 4, height: HIGH });
  }
  const set = moving ? carried(wanted, rested.current, size) : setLabels(wanted, size, undefined, taken);
  useLayoutEffect(() => {
    if (!moving) {
      rested.current = new Map(set.map((one) => [one.id, one]));
    }
  });
  const there = new Set(set.map((one) => one.id));
  const signed = sign && (
    <Place {...sign} apart={moving}>
      <LevelSign />
    </Place>
  );
  const said = set.map((one) => {
    const own = by.get(one.id);
    return own ? (
      <Place key={one.id} x={one.x} y={one.y} apart={moving}>
        <Label left={round(one.left - one.x)} top={round(one.top - one.y)} width={one.width} led={one.led} own={own} chosen={own.rank === "chosen"} hidden={hidden.has(one.id)} />
      </Place>
    ) : (
      <Place key={one.id} x={one.left} y={one.top} apart={moving}>
        <text className="bay-word bold" x={2} y={12}>
          {measured}
        </text>
      </Place>
    );
  });
  const field = { width: size.width, height: size.height, "aria-hidden": true } as const;
  const between = (
    <>
      {a && b && <Dimension from={a} to={b} />}
      {ending.map((end, at) => (
        <path key={at} className="bay-end" d={`M${end.x - 6} ${end.y}h12M${end.x} ${end.y - 6}v12`} />
      ))}
    </>
  );
  if (moving) {
    return (
      <div className="bay-over moving" style={{ width: size.width, height: size.height }} aria-hidden="true">
        {a && (
          <svg className="bay-over" {...field}>
            {between}
          </svg>
        )}
        {signed}
        {said}
      </div>
    );
  }
  return (
    <svg className="bay-over" {...field} viewBox={`0 0 ${size.width} ${size.height}`} focusable="false">
      {signed}
      {bay.runs
        .filter((run) => run.gap && isFigured(bay, run, chosen) && there.has(`gap ${run.run}`))
        .map((run) => run.gap && <Dimension key={run.run} from={flat(view, size, run.gap.from)} to={flat(view, size, run.gap.to)} />)}
      {between}
      {said}
    </svg>
  );
}

/** What stands at a place of the picture, which is nought to it; while the picture moves each is a sheet of its own. */
function Place({ x, y, apart, children }: { x: number; y: number; apart: boolean; children: ReactNode }) {
  const digits = apart ? 0 : 1;
  const style = { transform: `translate(${x.toFixed(digits)}px,${y.toFixed(digits)}px)` };
  return apart ? (
    <svg className="bay-place" width="1" height="1" style={style}>
      {children}
    </svg>
  ) : (
    <g style={style}>{children}</g>
  );
}

const round = (px: number): number => Math.round(px * 10) / 10;

/** One word beside its place, which is nought: while the picture moves it is pushed about as it is. */
const Label = memo(function Label({ left, top, width, led, own, chosen, hidden }: Pick<Placed, "left" | "top" | "width" | "led"> & { own: Named; chosen: boolean; hidden: boolean }) {
  const shape = own.grade ? (SHAPES[own.grade] ?? 8) : 0;
  const dot = own.key !== null || /^(high|low|bend|body)/.test(own.id);
  const end = { x: Math.min(Math.max(0, left), left + width), y: Math.min(Math.max(0, top), top + HIGH) };
  const names = ["bay-label", own.rank, hidden ? "behind" : "", own.key === null ? "" : "pressed"];
  return (
    <g className={names.filter(Boolean).join(" ")} data-pick={own.key ?? undefined}>
      {led && <path className="bay-lead" d={`M0 0L${end.x.toFixed(1)} ${end.y.toFixed(1)}`} />}
      {dot && <path className="bay-anchor" data-key={own.key ?? undefined} d={dotPath(own.id)} />}
      {own.key !== null && <rect className="bay-press" x={left - 4} y={top - 4} width={width + 8} height={HIGH + 8} />}
      {chosen && <rect className="bay-chosen" x={left - 1} y={top - 1} width={width + 2} height={HIGH + 1} />}
      {own.grade && (
        <svg className="bay-shape" x={left + 2} y={top + (HIGH - shape) / 2} width={shape} height={shape} overflow="visible">
          <Shape grade={own.grade} mark />
        </svg>
      )}
      <text className={own.bold ? "bay-word bold" : "bay-word"} x={left + 2 + (shape ? shape + 4 : 0)} y={top + 12}>
        {own.text}
      </text>
    </g>
  );
});

/** The place of a word: a dot; of a high spot an open hat; of a low spot a drop. */
const dotPath = (id: string): string => (id.startsWith("high") ? "M-6 4L0 -3L6 4" : id.startsWith("low") ? "M0 -5l4 7a4.2 4.2 0 1 1 -8 0Z" : "M-2.5 0a2.5 2.5 0 1 0 5 0a2.5 2.5 0 1 0 -5 0Z");

export function Dimension({ from, to }: { from: { x: number; y: number }; to: { x: number; y: number } }) {
  const { line, heads } = dimension(from, to);
  return (
    <>
      <path className="bay-halo" d={line} />
      <path className="bay-fine" d={line} />
      <path className="bay-filled" d={heads} />
    </>
  );
}

const LEVEL = levelSign({ x: 0, y: 0 });
const LevelSign = memo(function LevelSign() {
  const { body, strokes } = LEVEL;
  return (
    <>
      <path className="bay-level" d={body} />
      <path className="bay-fine" d={strokes} />
    </>
  );
});

/** The words whose places something stands before: marks are drawn otherwise then, names of bodies left out. */
export function hiddenOf(bay: Bay, chosen: string | null, keepOuts: boolean, seen: (at: [number, number, number], own: string | null) => boolean): ReadonlySet<string> {
  return new Set(named(bay, { chosen, keepOuts }).filter((one) => (one.key !== null || one.rank === "name") && !seen([one.at[0], one.at[1], one.at[2] + ABOVE], one.key)).map((one) => one.id));
}

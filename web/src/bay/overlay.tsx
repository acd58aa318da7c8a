/** Words, figures and signs over the picture: flat, of one size, each on a halo of the sheet. */
import type { ReactNode } from "react";
import { Shape } from "../card/grade";
import { flat, isBehindEye, type Size, type View } from "./camera";
import { dimension, levelSign } from "./dimension";
import type { Bay } from "./form";
import { setLabels, type Set as Placed, type Wanted } from "./labels";
import { isFigured, named, type Named } from "./marks";
import { signOf } from "./waterline";
import { isCut, type Plane } from "./section";
import type { End } from "./store";

const HIGH = 16;
/** What is named at its upper face is looked at from just over it [m]. */
const ABOVE = 0.002;
let pen: CanvasRenderingContext2D | null | undefined;

/** How wide words are, as the browser sets them [px]. */
function wide(text: string, bold: boolean): number {
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
  const all = named(bay, { chosen, keepOuts }).filter((one) => (!moving || one.key !== null) && !(one.rank === "name" && hidden.has(one.id)) && (one.rank === "chosen" || !(isCut(plane, one.at) || isBehindEye(view, one.at))));
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
  const set = setLabels(wanted, size, undefined, taken);
  const there = new Set(set.map((one) => one.id));
  return (
    <svg className="bay-over" width={size.width} height={size.height} viewBox={`0 0 ${size.width} ${size.height}`} aria-hidden="true" focusable="false">
      {sign && <LevelSign x={sign.x} y={sign.y} />}
      {bay.runs
        .filter((run) => run.gap && isFigured(bay, run, chosen) && there.has(`gap ${run.run}`))
        .map((run) => run.gap && <Dimension key={run.run} from={flat(view, size, run.gap.from)} to={flat(view, size, run.gap.to)} />)}
      {a && b && <Dimension from={a} to={b} />}
      {ending.map((end, at) => (
        <path key={at} className="bay-end" d={`M${end.x - 6} ${end.y}h12M${end.x} ${end.y - 6}v12`} />
      ))}
      {set.map((one) => {
        const own = by.get(one.id);
        return own ? (
          <Label key={one.id} set={one} own={own} chosen={own.rank === "chosen"} hidden={hidden.has(one.id)} />
        ) : (
          <text key={one.id} className="bay-word bold" x={one.left + 2} y={one.top + 12}>
            {measured}
          </text>
        );
      })}
    </svg>
  );
}

function Label({ set, own, chosen, hidden }: { set: Placed; own: Named; chosen: boolean; hidden: boolean }) {
  const shape = own.grade ? (SHAPES[own.grade] ?? 8) : 0;
  const dot = own.key !== null || /^(high|low|bend|body)/.test(own.id);
  const end = { x: Math.min(Math.max(set.x, set.left), set.left + set.width), y: Math.min(Math.max(set.y, set.top), set.top + set.height) };
  const names = ["bay-label", own.rank, hidden ? "behind" : "", own.key === null ? "" : "pressed"];
  return (
    <g className={names.filter(Boolean).join(" ")} data-pick={own.key ?? undefined}>
      {set.led && <path className="bay-lead" d={`M${set.x.toFixed(1)} ${set.y.toFixed(1)}L${end.x.toFixed(1)} ${end.y.toFixed(1)}`} />}
      {dot && <path className="bay-anchor" data-key={own.key ?? undefined} d={dotPath(own.id, set.x, set.y)} />}
      {own.key !== null && <rect className="bay-press" x={set.left - 4} y={set.top - 4} width={set.width + 8} height={set.height + 8} />}
      {chosen && <rect className="bay-chosen" x={set.left - 1} y={set.top - 1} width={set.width + 2} height={set.height + 1} />}
      {own.grade && (
        <svg className="bay-shape" x={set.left + 2} y={set.top + (HIGH - shape) / 2} width={shape} height={shape} overflow="visible">
          <Shape grade={own.grade} mark />
        </svg>
      )}
      <text className={own.bold ? "bay-word bold" : "bay-word"} x={set.left + 2 + (shape ? shape + 4 : 0)} y={set.top + 12}>
        {own.text}
      </text>
    </g>
  );
}

/** The place of a word: a dot; of a high spot an open hat; of a low spot a drop. */
function dotPath(id: string, x: number, y: number): string {
  const [px, py] = [x.toFixed(1), y.toFixed(1)];
  if (id.startsWith("high")) {
    return `M${(x - 6).toFixed(1)} ${(y + 4).toFixed(1)}L${px} ${(y - 3).toFixed(1)}L${(x + 6).toFixed(1)} ${(y + 4).toFixed(1)}`;
  }
  if (id.startsWith("low")) {
    return `M${px} ${(y - 5).toFixed(1)}l4 7a4.2 4.2 0 1 1 -8 0Z`;
  }
  return `M${(x - 2.5).toFixed(1)} ${py}a2.5 2.5 0 1 0 5 0a2.5 2.5 0 1 0 -5 0Z`;
}

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

function LevelSign({ x, y }: { x: number; y: number }) {
  const { body, strokes } = levelSign({ x, y });
  return (
    <>
      <path className="bay-level" d={body} />
      <path className="bay-fine" d={strokes} />
    </>
  );
}

/** The words whose places something stands before: marks are drawn otherwise then, names of bodies left out. */
export function hiddenOf(bay: Bay, chosen: string | null, keepOuts: boolean, seen: (at: [number, number, number], own: string | null) => boolean): ReadonlySet<string> {
  return new Set(named(bay, { chosen, keepOuts }).filter((one) => (one.key !== null || one.rank === "name") && !seen([one.at[0], one.at[1], one.at[2] + ABOVE], one.key)).map((one) => one.id));
}

/** The leader: a thin drawn line from the open verdict to its place in each picture. */
import { useEffect, useRef, useState } from "react";
import { markOf, usePage, verdictOf } from "../state";
import { nextOf } from "./column";
import { bent, inside, straight, upright, type Box, type Line } from "./leader-line";

function boxOf(one: Element): Box {
  const { left, top, right, bottom } = one.getBoundingClientRect();
  return { left, top, right, bottom };
}

/** Least of a picture that must be on view for a line to lead into it [px]. */
const LEAST = 24;

/** What of a picture is on view: its sheet may be scrolled; null where next to nothing is. */
function shownOf(picture: Element): Box | null {
  const own = boxOf(picture);
  const sheet = picture.closest(".chapter-sheet");
  const field = sheet ? boxOf(sheet) : own;
  const box = { ...own, top: Math.max(own.top, field.top), bottom: Math.min(own.bottom, field.bottom) };
  return box.bottom - box.top < LEAST ? null : box;
}

/** Where a key is drawn: its grade's shape if it has one, else the first of its lines. */
function drawnAt(picture: Element, key: string): Box | null {
  const own = [...picture.querySelectorAll(`[data-key="${CSS.escape(key)}"]`)];
  const shape = own.find((one) => /^(unsound|marginal|unmeasured|sound)$/.test(one.getAttribute("class") ?? ""));
  const one = shape ?? own[0] ?? picture.querySelector(`[data-key^="${CSS.escape(key)}."]`);
  if (one) {
    return boxOf(one);
  }
  // A joint that is not drawn stands on a run that is.
  const up = key.lastIndexOf(".");
  return up > 0 ? drawnAt(picture, key.slice(0, up)) : null;
}

export function Leader() {
  const svg = useRef<SVGSVGElement>(null);
  const [lines, setLines] = useState<Line[]>([]);
  const mark = usePage((state) => {
    const open = verdictOf(state.page, state.verdict);
    if (open) {
      return open.mark;
    }
    const next = state.page ? nextOf(state.page, state.chapter) : null;
    return next?.mark ?? verdictOf(state.page, next?.verdict ?? null)?.mark ?? null;
  });
  const key = usePage((state) => markOf(state.page, mark)?.key ?? null);

  useEffect(() => {
    const own = svg.current;
    const sheet = own?.parentElement;
    if (!own || !sheet) {
      return;
    }
    let frame = 0;
    let drawn = "";
    const draw = () => {
      frame = 0;
      // Where a hand turns the bay and pictures come slowly, it steps aside.
      const aside = sheet.querySelector("[data-hasty]") !== null;
      const next = mark === null || key === null || aside ? [] : measure(own, sheet, mark, key);
      const told = JSON.stringify(next);
      if (told !== drawn) {
        drawn = told;
        setLines(next);
      }
    };
    const soon = () => {
      frame ||= requestAnimationFrame(draw);
    };
    // Whatever moves, grows or is drawn anew moves the ends of the leader.
    const changes = new MutationObserver((all) => {
      if (all.some((one) => !own.contains(one.target))) {
        soon();
      }
    });
    changes.observe(sheet, { subtree: true, childList: true, attributes: true, attributeFilter: ["d", "style", "class", "viewBox"] });
    const sizes = new ResizeObserver(soon);
    sizes.observe(sheet);
    addEventListener("scroll", soon, true);
    document.fonts.addEventListener("loadingdone", soon);
    soon();
    return () => {
      cancelAnimationFrame(frame);
      changes.disconnect();
      sizes.disconnect();
      removeEventListener("scroll", soon, true);
      document.fonts.removeEventListener("loadingdone", soon);
    };
  }, [mark, key]);

  return (
    <svg className="leader" ref={svg} aria-hidden="true" focusable="false">
      {lines.map((line) => (
        <g key={line.to}>
          <path className="leader-halo" d={line.path} />
          <path className="leader-line" d={line.path} data-leader={line.to} />
          {line.arrow !== "" && <path className="leader-arrow" d={line.arrow} />}
        </g>
      ))}
    </svg>
  );
}

function measure(own: Element, sheet: Element, mark: string, key: string): Line[] {
  const card = sheet.querySelector("[data-card]");
  const column = sheet.querySelector(".column");
  if (!card || !column) {
    return [];
  }
  const origin = boxOf(own);
  const head = card.querySelector("h2, .next-head") ?? card;
  const field = boxOf(column);
  const at = boxOf(card.querySelector(".next-head") ?? head);
  // The card may be scrolled away under the head of the column.
  const y = Math.min(Math.max((at.top + at.bottom) / 2, field.top + 6), field.bottom - 6);
  const start = { x: field.left, y };
  const lines: Line[] = [];

  const loop = sheet.querySelector(".pictures :is(.bay-box, .loop-box)");
  const shown = loop ? shownOf(loop) : null;
  const place = loop && shown ? drawnAt(loop, key) : null;
  const box = sheet.querySelector(".strip-box");
  const bar = sheet.querySelector(".strip");
  const hit = box?.querySelector(`[data-mark="${CSS.escape(mark)}"]`);
  const shape = box ? drawnAt(box, key) : null;
  const strip = hit ? (shape ?? boxOf(hit)) : shape;
  const end = box && strip ? inside(strip, boxOf(box)) : null;
  const top = bar ? boxOf(bar).top : 0;
  if (field.top >= top) {
    // The column lies under the strip: the mark is on the way to the picture.
    if (end) {
      lines.push(upright("strip", field.top, { ...end, clear: end.clear + 14 }));
    }
    if (shown && place && end) {
      lines.push(straight("loop", { x: end.x, y: top }, inside(place, shown), 0));
    }
  } else {
    const lies = loop === null && sheet.querySelector(".strip.tall") !== null;
    if (end && lies) {
      lines.push(upright("strip", field.bottom, end));
    } else if (end) {
      lines.push(bent("strip", start, end, top));
    }
    if (shown && place) {
      lines.push(straight("loop", start, inside(place, shown), 16));
    }
  }
  return lines.map((line) => line.moved(-origin.left, -origin.top));
}

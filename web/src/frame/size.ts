/** How much room the window has, which decides the form of the sheet. */
import { useSyncExternalStore } from "react";
import type { Front } from "../state";

/** The forms of the strip. */
export type Form = "ribbon" | "half" | "tall";

export type Layout = "desk" | "tablet" | "upright" | "phone";

/** The form of the sheet for a window [px]. */
export function layoutOf(width: number, height: number): Layout {
  if (width < 700 || height < 560) {
    return "phone";
  }
  if (width > 1180) {
    return "desk";
  }
  return width > height ? "tablet" : "upright";
}

/** The form of the strip that a window has room for, where the reader has chosen none; under Get home it is the least. */
export function formOf(own: Form | null, layout: Layout, height: number, chapter: string): Form {
  if (own !== null) {
    return own;
  }
  if (chapter === "home") {
    return "ribbon";
  }
  return layout === "desk" && height >= 760 ? "half" : "ribbon";
}

/** What stands in front of a chapter, where the reader has chosen nothing. */
export function frontOf(own: Front | undefined, chapter: string): Front {
  if (own !== undefined) {
    return own;
  }
  return SHEETS.has(chapter) ? "sheet" : chapter === "route" ? "bay" : "loop";
}
const SHEETS = new Set(["survey", "flow", "order", "fill", "home"]);

let last: [number, number] = [0, 0];
function look(): [number, number] {
  if (innerWidth !== last[0] || innerHeight !== last[1]) {
    last = [innerWidth, innerHeight];
  }
  return last;
}
function follow(change: () => void): () => void {
  addEventListener("resize", change);
  return () => removeEventListener("resize", change);
}

export function useWindow(): [width: number, height: number] {
  return useSyncExternalStore(follow, look);
}

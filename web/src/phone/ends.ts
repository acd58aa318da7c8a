/** The survey as a way from end to end, one value at a time. */

import type { Survey, SurveyBox } from "../sent";
import type { PadKind } from "./pad";

/** A box of the survey, as it is sent. */
export type Box = SurveyBox;

/** A survey, as far as the way needs it. */
export type Stations = Pick<Survey, "stations">;

/** One value to ask for. */
export interface Ask {
  box: Box;
  /** What is written on the hose; empty where there is no mark. */
  mark: string;
  station: string;
  part: string;
  /** Which end, from 1. */
  end: number;
}

/**
 * Places that several boxes share: they are parts of one written line, as a hose on the shelf is, and one value put
 * there alone would write over the others. Such a line is written at the desk.
 */
export function sharedPlaces(survey: Stations): Set<string> {
  const seen = new Set<string>();
  const shared = new Set<string>();
  for (const { place } of survey.stations.flatMap((station) => station.ends).flatMap((end) => end.boxes)) {
    (seen.has(place) ? shared : seen).add(place);
  }
  return shared;
}

/** The whole way, in the order in which one stands in the boat; `atDesk` counts the boxes that it leaves out. */
export function way(survey: Stations): { asks: Ask[]; ends: number; atDesk: number } {
  const shared = sharedPlaces(survey);
  const asks: Ask[] = [];
  let ends = 0;
  let atDesk = 0;
  for (const station of survey.stations) {
    for (const end of station.ends) {
      const boxes = end.boxes.filter((box) => !shared.has(box.place));
      atDesk += end.boxes.length - boxes.length;
      if (boxes.length === 0) continue;
      ends += 1;
      for (const box of boxes) {
        asks.push({ box, mark: end.mark ?? "", station: station.title, part: end.part, end: ends });
      }
    }
  }
  return { asks, ends, atDesk };
}

/** Whether a box still waits for a pencil; two readings wait for the desk, where one of them is chosen. */
export const open = (ask: Ask, kept: ReadonlySet<string>): boolean =>
  ask.box.holds !== "value" && ask.box.holds !== "two-readings" && !kept.has(ask.box.place);

/** The box that is open and would settle the most, by the program's own ranking; the first open one where it names none; -1 where none is open. */
export function firstOpen(asks: readonly Ask[], ranked: readonly string[], kept: ReadonlySet<string>): number {
  for (const place of ranked) {
    const at = asks.findIndex((ask) => ask.box.place === place && open(ask, kept));
    if (at >= 0) return at;
  }
  return nextOpen(asks, -1, kept);
}

/** The next box that is open after one, going round; -1 where none is. */
export function nextOpen(asks: readonly Ask[], from: number, kept: ReadonlySet<string>, passed: ReadonlySet<string> = new Set()): number {
  for (let step = 1; step <= asks.length; step += 1) {
    const at = (from + step + asks.length) % asks.length;
    const ask = asks[at];
    if (ask !== undefined && open(ask, kept) && !passed.has(ask.box.place)) return at;
  }
  return -1;
}

/** Keys of the file for which a height is written, signed from the waterline. */
const HEIGHTS = new Set(["h", "high_at", "low_at", "cap_h", "laden", "light", "cold_mark"]);

/** How a box is answered: by the pad, or by words. */
export function padOf(box: Box, units: readonly string[] = []): PadKind | "words" {
  switch (box.entry) {
    case "length":
      return HEIGHTS.has(box.name) || box.instrument === "water tube" ? "height" : "length";
    case "pressure":
    case "pressure-at-temperature":
    case "temperature":
    case "number":
      return box.entry;
    default:
      return units.length > 0 ? "quantity" : "words";
  }
}

/** Words that a box of words takes; empty where a person writes it freely. They are those of the boat file. */
export function wordsOf(box: Box): string[] {
  if (box.name === "form") return ["plain", "beaded", "barbed"];
  if (box.picture === "material" || box.name === "metal") {
    return ["cast iron", "steel", "316", "304", "aluminium", "copper", "brass", "DZR", "gunmetal", "bronze", "cupro-nickel", "plastic"];
  }
  return [];
}

/** Why a person can't reach, as the pad says it. */
export const CANT = ["no room for the caliper", "hidden", "not there"] as const;

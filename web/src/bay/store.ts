/** How the bay is looked at: kept while chapters change, forgotten with the page. */
import { store, useStoreOf } from "../store";
import type { View } from "./camera";
import type { Bay, Measured, MeasureEnd, P3 } from "./form";
import type { Look } from "./looks";
import type { Engine } from "./pose";
import { FINE, STEP, type Cut } from "./section";

/** An end of what is measured: a mark, or a point that was picked. */
export interface End extends MeasureEnd {
  name: string;
  at: P3;
}

export interface BayState {
  bay: Bay | null;
  view: View | null;
  /** The named place one looks from; null once a hand has turned the picture. */
  look: Look | null;
  cut: Cut | null;
  /** Where the cut stands [m]. */
  cutAt: number;
  fine: boolean;
  engine: Engine;
  keepOuts: boolean;
  drivers: boolean;
  scan: boolean;
  measuring: boolean;
  ends: End[];
  measured: Measured | null;
  fault: string | null;
  /** What the scan's points did not come for. */
  unscanned: string | null;
  /** Which boat, change and arrangement the ends belong to. */
  about: string;
  hands: boolean;
  /** A scan that was dropped on the picture. */
  dropped: File | null;
  /** A hand has hold of the picture. */
  moving: boolean;
}

export const bayStore = store<BayState>({
  bay: null,
  view: null,
  look: null,
  cut: null,
  cutAt: 0,
  fine: false,
  engine: "rest",
  keepOuts: true,
  drivers: true,
  scan: true,
  measuring: false,
  ends: [],
  measured: null,
  fault: null,
  unscanned: null,
  about: "",
  hands: false,
  dropped: null,
  moving: false,
});

export const useBayOf = <P,>(part: (state: BayState) => P): P => useStoreOf(bayStore, part);

/** One step of the cut: fine where that is chosen or Shift is held. */
export const stepSize = (fine: boolean, shift: boolean): number => (fine !== shift ? FINE : STEP);

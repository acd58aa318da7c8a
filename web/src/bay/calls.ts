/** How the program is asked about the bay. */
import { address, ask, post, readBytes } from "../api";
import type { Units } from "../sent";
import type { Bay, LayAsk, Laid, MeasureAsk, Measured, ScanLook, ScanPoint, ScanRay } from "./form";

/** Of which arrangement, told in which units. */
type Of = { arrangement: string | null; units: Units };

export const calls = {
  bay: (arrangement: string | null, units: Units, signal?: AbortSignal) =>
    ask<Bay>(address("/api/bay", { arrangement, units }), signal ? { signal } : {}),
  /** The points of the scan, x y z one after the other [m]. */
  points: async (arrangement: string | null, signal?: AbortSignal) => {
    const bytes = await readBytes(address("/api/bay/points", { arrangement }), signal ? { signal } : {});
    return new Float32Array(bytes, 0, Math.floor(bytes.byteLength / 12) * 3);
  },
  measure: (asked: MeasureAsk, units: Units, signal?: AbortSignal) => post<MeasureAsk, Measured>(address("/api/measure", { units }), asked, signal),
  look: (file: File, of: Of) =>
    ask<ScanLook>(address("/api/scan", { name: file.name, ...of }), {
      method: "POST",
      headers: { "Content-Type": "application/octet-stream" },
      body: file,
    }),
  press: (ray: ScanRay) => post<ScanRay, ScanPoint>("/api/scan/point", ray),
  lay: (asked: LayAsk, of: Of) => post<LayAsk, Laid>(address("/api/scan/lay", of), asked),
  leave: (id: string) => post<{ id: string }, null>("/api/scan/leave", { id }),
};

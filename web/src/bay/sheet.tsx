/** What comes late: the bay as a picture of its own, and the sheet of Route under it. */
import type { DragEvent } from "react";
import { go } from "../state";
import { Field, useBay } from "./field";
import { Scan } from "./scan";
import { bayStore, useBayOf } from "./store";
import { Clips, Missing, Runs } from "./tables";

/** The bay alone, in the pictures' field. */
export function BayPicture() {
  const { bay, fault } = useBay();
  return (
    <div className="bay" {...drops}>
      <Field bay={bay} fault={fault} />
    </div>
  );
}

/** The tables, and the scan. */
export function RouteTables() {
  const bay = useBayOf((state) => state.bay);
  return (
    <>
      {bay && (
        <>
          <Missing bay={bay} />
          <Runs bay={bay} />
          <Clips bay={bay} />
        </>
      )}
      <Scan bay={bay} />
    </>
  );
}

/** A scan may be dropped anywhere on the picture. */
const drops = {
  onDragOver: (event: DragEvent) => event.preventDefault(),
  onDrop: (event: DragEvent) => {
    event.preventDefault();
    const file = event.dataTransfer.files[0];
    if (file) {
      bayStore.set({ dropped: file });
      go("route");
    }
  },
};

/** Grades: four silhouettes, and the word. */
import type { Grade } from "../sent";

const SIZES: Record<Grade, [mark: number, list: number]> = {
  sound: [8, 10],
  marginal: [12, 14],
  unsound: [18, 22],
  unmeasured: [10, 12],
};

/** The shape alone; its word must stand beside it. */
export function Shape({ grade, mark = false, outline = false }: ShapeProps) {
  const size = SIZES[grade][mark ? 0 : 1];
  return (
    <svg
      className={`shape ${grade}${outline ? " outline" : ""}`}
      width={size}
      height={size}
      viewBox={BOXES[grade]}
      aria-hidden="true"
      focusable="false"
    >
      {DRAWN[grade]}
    </svg>
  );
}
interface ShapeProps {
  grade: Grade;
  /** Small, as within a line. */
  mark?: boolean;
  /** Being reckoned: not filled. */
  outline?: boolean;
}

/** What of the 24-unit box each silhouette fills. */
const BOXES: Record<Grade, string> = {
  sound: "7 7 10 10",
  marginal: "5 5 14 14",
  unsound: "2 2 20 20",
  unmeasured: "5.25 5.25 13.5 13.5",
};

const DRAWN = {
  sound: <circle className="body" cx="12" cy="12" r="5" />,
  marginal: <path className="body" d="M5 15.5a7 7 0 0 1 14 0z" />,
  unsound: (
    <>
      <path className="body" d="M12 2l10 10-10 10L2 12z" />
      <path className="cross" d="M8.2 8.2l7.6 7.6M15.8 8.2l-7.6 7.6" />
    </>
  ),
  unmeasured: <path className="body" d="M6 6h12v12H6z" />,
};

/** Shape and word. */
export function GradeWord({ grade, old = false }: { grade: Grade; old?: boolean }) {
  return (
    <span className="grade">
      <Shape grade={grade} mark outline={old} /> {grade}
    </span>
  );
}

/** A picture of the program in ink: each primitive with its class, and nothing moved. */
import { memo, useMemo, type ReactNode } from "react";
import type { Drawing, Placed } from "../sent";
import { CASED, isChosen, merged } from "./merged";

export interface PaintProps {
  drawing: Drawing;
  /** Key of what is chosen. */
  chosen: string | null;
}

export const Paint = memo(function Paint({ drawing, chosen }: PaintProps) {
  const placed = useMemo(() => merged(drawing.placed), [drawing]);
  return placed.map((one, at) => <One key={at} one={one} lit={isChosen(one.key, chosen)} own={chosen !== null && one.key === chosen} />);
});

function One({ one, lit, own }: { one: Placed; lit: boolean; own: boolean }): ReactNode {
  const { shape, key } = one;
  if ("path" in shape) {
    const line = <path className={one.class} d={shape.path} data-key={key} />;
    if (key === undefined || !CASED.has(one.class)) {
      return own && one.class === "middle" ? (
        <path className="middle lit" d={shape.path} data-key={key} />
      ) : (
        line
      );
    }
    // A line can be pressed a little beside it too.
    return (
      <>
        {line}
        {lit && (
          <>
            <path className="cased" d={shape.path} />
            <path className="core" d={shape.path} />
          </>
        )}
        <path className="near" d={shape.path} data-key={key} />
      </>
    );
  }
  if ("circle" in shape) {
    const [cx, cy, r] = shape.circle;
    return <circle className={one.class} cx={cx} cy={cy} r={r} data-key={key} />;
  }
  const { x, y, anchor, face, size, text } = shape.text;
  const turned = own && face === "bold";
  const words = (
    <text
      className={[one.class, face, turned ? "turned" : ""].filter((name) => name !== "plain" && name !== "").join(" ")}
      x={x}
      y={y}
      textAnchor={anchor}
      fontSize={size}
      data-key={key}
    >
      {text}
    </text>
  );
  if (!turned) {
    return words;
  }
  // The chosen mark is turned: sheet on ink.
  const wide = text.length * size * 0.68 + 6;
  const left = anchor === "start" ? x - 3 : anchor === "end" ? x - wide + 3 : x - wide / 2;
  return (
    <>
      <rect className="chosen" x={left} y={y - size + 0.5} width={wide} height={size + 3} />
      {words}
    </>
  );
}

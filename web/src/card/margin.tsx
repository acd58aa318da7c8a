/** The margin line: limits as a bracket, the value by its grade, a bar for its tolerance. */
import { useLayoutEffect, useRef, useState } from "react";
import type { Grade, MarginLine } from "../sent";
import { useText } from "../state";

const HIGH = 58;
/** Where the drawn line lies. */
const LINE = 30;
const EDGE = 10;

export function Margin({ line, grade }: { line: MarginLine; grade: Grade }) {
  const text = useText();
  const box = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(340);
  useLayoutEffect(() => {
    const one = box.current;
    if (!one) {
      return;
    }
    const look = new ResizeObserver(() => setWidth(Math.max(160, one.clientWidth)));
    look.observe(one);
    setWidth(Math.max(160, one.clientWidth));
    return () => look.disconnect();
  }, []);
  const x = (share: number) => EDGE + share * (width - 2 * EDGE);
  const { at } = line;
  const low = at.low === null ? null : x(at.low);
  const high = at.high === null ? null : x(at.high);
  const plusMinus = line.plus_minus === null ? "" : ` ± ${text(line.plus_minus)}`;
  const value = `${text(line.value)}${plusMinus}`;
  const limits = text(line.words);
  const bracket = [
    low === null ? `M${EDGE} ${LINE - 10}` : `M${low} ${LINE}V${LINE - 10}`,
    high === null ? `H${width - EDGE}` : `H${high}V${LINE}`,
  ].join("");
  const middle = ((low ?? EDGE) + (high ?? width - EDGE)) / 2;
  const here = x(at.value);
  return (
    <div className="margin" ref={box}>
      <svg
        width={width}
        height={HIGH}
        viewBox={`0 0 ${width} ${HIGH}`}
        role="img"
        aria-label={`${value}; limit ${limits}`}
      >
        <path className="axis" d={`M${EDGE} ${LINE}H${width - EDGE}`} />
        {(low !== null || high !== null) && <path className="bracket" d={bracket} />}
        <Words x={middle} y={LINE - 15} width={width} text={limits} soft />
        <path className="bar" d={`M${x(at.from)} ${LINE}H${Math.max(x(at.to), x(at.from) + 1)}`} />
        {grade === "unsound" ? (
          <>
            <path
              className="value unsound"
              d={`M${here} ${LINE - 10}l10 10-10 10-10-10z`}
            />
            <path
              className="cross"
              d={`M${here - 3.8} ${LINE - 3.8}l7.6 7.6M${here + 3.8} ${LINE - 3.8}l-7.6 7.6`}
            />
          </>
        ) : grade === "marginal" ? (
          <path className="value" d={`M${here - 7} ${LINE + 3.5}a7 7 0 0 1 14 0z`} />
        ) : grade === "unmeasured" ? (
          <path className="value unmeasured" d={`M${here - 6} ${LINE - 6}h12v12h-12z`} />
        ) : (
          <circle className="value" cx={here} cy={LINE} r={5} />
        )}
        <Words x={here} y={LINE + 24} width={width} text={value} />
      </svg>
    </div>
  );
}

/** A text that keeps inside the line; its width is that of the type's mean letter. */
function Words({ x, y, width, text, soft = false }: WordsProps) {
  const half = (text.length * 12 * 0.56) / 2;
  const at = Math.min(Math.max(x, half), width - half);
  return (
    <text className={soft ? "soft" : undefined} x={at} y={y} textAnchor="middle">
      {text}
    </text>
  );
}
interface WordsProps {
  x: number;
  y: number;
  width: number;
  text: string;
  soft?: boolean;
}

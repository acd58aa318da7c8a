/** Which dimension is meant, on the form of a spigot. Not to scale: it shows where to measure. */
import type { ReactNode } from "react";

import type { Box, Ask } from "./ends";
import { padOf } from "./ends";

type Means =
  | "outside"
  | "bead"
  | "bead width"
  | "straight"
  | "material"
  | "way"
  | "length"
  | "height"
  | "bore"
  | "other";

/** What a picture shows, by the box. */
export function meansOf(box: Box): Means {
  if (padOf(box) === "height") {
    return "height";
  }
  if (box.name === "bead_width") {
    return "bead width";
  }
  if (box.name === "id" || box.name === "bore" || box.name === "hose_bore") {
    return "bore";
  }
  return box.picture;
}

const SPOKEN: Record<Means, string> = {
  outside: "A spigot: measure across it, behind the bead.",
  bead: "A spigot: measure across its bead.",
  "bead width": "A spigot: measure the bead along it.",
  straight: "A spigot: measure along it, from the bead to the root.",
  material: "A spigot, cut: say what it is made of.",
  way: "A spigot with a clip: say which way a screwdriver can come.",
  length: "A hose from end to end: measure along it.",
  height: "A point and the waterline: measure how far above or below it lies.",
  bore: "A hose, end on: measure across its bore.",
  other: "No picture: the words say what is asked.",
};

/** A dimension line with its arrows. */
function Dimension({ x1, y1, x2, y2 }: { x1: number; y1: number; x2: number; y2: number }) {
  const length = Math.hypot(x2 - x1, y2 - y1);
  const [ux, uy] = [(x2 - x1) / length, (y2 - y1) / length];
  const head = (x: number, y: number, way: 1 | -1): string => {
    const [bx, by] = [x + way * ux * 8, y + way * uy * 8];
    return `M${x} ${y}L${bx - uy * 3.2} ${by + ux * 3.2}L${bx + uy * 3.2} ${by - ux * 3.2}Z`;
  };
  return (
    <g className="means-dimension">
      <path d={`M${x1} ${y1}L${x2} ${y2}`} />
      <path className="means-head" d={head(x1, y1, 1) + head(x2, y2, -1)} />
    </g>
  );
}

/** The wall at the left, the spigot out of it to the right, its bead near the mouth. */
const WALL = "M40 10V86";
const SPIGOT = "M40 30H196Q200 20 208 20T220 30H262V66H220Q216 76 208 76T196 66H40";

function Spigot({ children, faint = false }: { children?: ReactNode; faint?: boolean }) {
  return (
    <>
      <path className="means-wall" d={WALL} />
      <path className={faint ? "means-thin" : "means-line"} d={SPIGOT} />
      <path className="means-axis" d="M26 48H284" />
      {children}
    </>
  );
}

function body(means: Means): ReactNode {
  switch (means) {
    case "outside":
      return (
        <Spigot>
          <Dimension x1={118} y1={30} x2={118} y2={66} />
          <path className="means-fine" d="M96 30H140M96 66H140" />
        </Spigot>
      );
    case "bead":
      return (
        <Spigot>
          <Dimension x1={208} y1={20} x2={208} y2={76} />
          <path className="means-fine" d="M190 20H226M190 76H226" />
        </Spigot>
      );
    case "bead width":
      return (
        <Spigot>
          <path className="means-fine" d="M196 28V8M220 28V8M172 12H196M244 12H220" />
          <path className="means-head" d="M196 12L188 8.8V15.2ZM220 12L228 8.8V15.2Z" />
        </Spigot>
      );
    case "straight":
      return (
        <Spigot>
          <path className="means-fine" d="M196 68V88" />
          <Dimension x1={40} y1={82} x2={196} y2={82} />
        </Spigot>
      );
    case "material":
      return (
        <Spigot>
          <path
            className="means-fine"
            d="M52 66L88 30M76 66L112 30M100 66L136 30M124 66L160 30M148 66L184 30M172 66L196 42"
          />
          <path className="means-fine" d="M150 40L232 16H300" />
          <text className="means-word" x={238} y={13}>
            of what?
          </text>
        </Spigot>
      );
    case "way":
      return (
        <Spigot faint>
          <path className="means-line" d="M130 24H156V72H130Z" />
          <path className="means-block" d="M134 12H152V24H134Z" />
          <path className="means-fine means-dash" d="M143 10V-6M150 14L186 -2M136 14L100 -2" />
          <text className="means-word" x={196} y={10}>
            which way?
          </text>
        </Spigot>
      );
    case "length":
      return (
        <>
          <path className="means-wall" d="M40 56V90M280 6V42" />
          <path className="means-hose" d="M40 74H120C170 74 150 22 200 22H280" />
          <path className="means-core" d="M40 74H120C170 74 150 22 200 22H280" />
          <path className="means-fine means-dash" d="M40 62H114C160 62 140 10 196 10H280" />
          <path className="means-head" d="M40 62L48 58.8V65.2ZM280 10L272 6.8V13.2Z" />
        </>
      );
    case "height":
      return (
        <>
          <path className="means-line" d="M20 70H300" />
          <path className="means-fine" d="M44 57H60L52 69ZM44 75H60M48 80H56" />
          <path className="means-fine" d="M150 14H190" />
          <circle className="means-dot" cx={170} cy={14} r={4} />
          <Dimension x1={170} y1={70} x2={170} y2={19} />
          <text className="means-word" x={70} y={65}>
            waterline
          </text>
        </>
      );
    case "bore":
      return (
        <>
          <circle className="means-line" cx={160} cy={48} r={39} />
          <circle className="means-line" cx={160} cy={48} r={27} />
          <Dimension x1={133} y1={48} x2={187} y2={48} />
        </>
      );
    case "other":
      return <path className="means-fine means-dash" d="M120 22H200V74H120Z" />;
  }
}

export function Picture({ ask }: { ask: Ask }) {
  const means = meansOf(ask.box);
  return (
    <svg
      className="means"
      viewBox={means === "way" ? "0 -8 320 96" : "0 6 320 84"}
      preserveAspectRatio="xMidYMid meet"
      role="img"
      aria-label={SPOKEN[means]}
    >
      {body(means)}
    </svg>
  );
}

/**
 * Ink for the drawing in space: faces in the colour of the sheet, lines as wide on the screen as on any other picture,
 * hatches that lie in the picture. No light.
 */
import {
  AlwaysStencilFunc,
  BackSide,
  BufferAttribute,
  BufferGeometry,
  Color,
  DoubleSide,
  FrontSide,
  GreaterDepth,
  InvertStencilOp,
  LessEqualDepth,
  NotEqualStencilFunc,
  ReplaceStencilOp,
  ShaderMaterial,
  Vector2,
  Vector4,
  ZeroStencilOp,
} from "three";
import type { P3 } from "./form";
import type { Inked } from "./mesh";
import { along } from "./space";

export const INKS = ["sheet", "ink", "soft", "line", "hair", "lead"] as const;
export type Ink = (typeof INKS)[number];

/** What all inks share; set anew for every picture. */
export const shared = {
  /** Pixels a metre. */
  uScale: { value: 100 },
  /** Pixels of the screen in one of the page. */
  uRatio: { value: 1 },
  /** Size of the picture [px]. */
  uField: { value: new Vector2(1, 1) },
  /** Where the middle of the bay stands in the picture: hatches lie on it [px]. */
  uOrigin: { value: new Vector2() },
  /** Depth of the picture in one metre. */
  uDeep: { value: 0.1 },
  /** What stands over this plane is cut away; normal and place. */
  uPlane: { value: new Vector4(0, 0, 0, 1e9) },
};
export const colours: Record<Ink, { value: Color }> = {
  sheet: { value: new Color() },
  ink: { value: new Color() },
  soft: { value: new Color() },
  line: { value: new Color() },
  hair: { value: new Color() },
  lead: { value: new Color() },
};

/** How a face is filled; the same numbers stand in the shader. */
export const FILL = { plain: 0, single: 1, crossed: 2, dots: 3, veil: 4, other: 5, dashed: 6 } as const;
export type Fill = keyof typeof FILL;

// Where nothing is cut away nothing is thrown away either: that is what a processor draws fast.
const CUT = `
#ifdef CUT
uniform vec4 uPlane;
varying vec3 vAt;
#endif
void cut() {
#ifdef CUT
  if (dot(uPlane.xyz, vAt) > uPlane.w) discard;
#endif
}
`;

const FACE_VERTEX = `
attribute vec3 grow;
uniform float uScale, uOut, uOutPx;
#ifdef CUT
varying vec3 vAt;
#endif
#ifdef DASHED
attribute vec3 middle;
varying vec3 vOut;
varying vec2 vFlat;
#endif
void main() {
  vec3 at = position + grow * (uOut + uOutPx / uScale);
  vec4 seen = viewMatrix * vec4(at, 1.0);
#ifdef CUT
  vAt = position;
#endif
#ifdef DASHED
  vOut = (viewMatrix * vec4(grow, 0.0)).xyz;
  vFlat = seen.xy - (viewMatrix * vec4(middle, 1.0)).xy;
#endif
  gl_Position = projectionMatrix * seen;
}`;

const FACE_FRAGMENT = `
uniform vec3 uColour, uUnder;
uniform float uRatio, uScale, uRound;
uniform vec2 uOrigin;
uniform int uFill;
#ifdef DASHED
varying vec3 vOut;
varying vec2 vFlat;
#endif
${CUT}
float ruled(float s, float apart) { return clamp((0.5 - abs(mod(s, apart) - 0.5 * apart)) * uRatio + 0.5, 0.0, 1.0); }
void main() {
  cut();
  float ink = 1.0, thick = 1.0;
#ifdef DASHED
  vec2 out2 = normalize(vOut.xy + vec2(1e-5, 0.0));
  float along = dot(vFlat, vec2(-out2.y, out2.x)) * uScale + atan(out2.y, out2.x) * uRound * uScale;
  if (mod(along, 10.0) > 6.0) discard;
#endif
#ifdef FILLED
  vec2 p = gl_FragCoord.xy / uRatio - uOrigin;
  float up = (p.x - p.y) * 0.70711, down = (p.x + p.y) * 0.70711;
  if (uFill == 1) ink = ruled(up, 6.0);
  else if (uFill == 2) ink = max(ruled(up, 4.0), ruled(down, 4.0));
  else if (uFill == 3) ink = length(mod(p, 6.0) - 3.0) < 0.9 ? 1.0 : 0.0;
  else if (uFill == 4) thick = ruled(up, 8.0);
  else if (uFill == 5) ink = ruled(down, 6.0);
#endif
  gl_FragColor = vec4(mix(uUnder, uColour, ink), thick);
}`;

/** Which faces are seen: the near ones of a closed body, its far ones, or both. */
export type Sides = "near" | "far" | "both";
/** What is written beside colour: where a body lies, and what stands round it; how often a cut is covered, and its filling. */
export type Pass = "mark" | "edge" | "count" | "hatch";

export interface FaceLook {
  colour?: Ink;
  fill?: Fill;
  sides?: Sides;
  /** Grown by so much [m], [px]. */
  out?: number;
  outPx?: number;
  cut?: boolean;
  /** Radius about which its dashes go round corners [m]. */
  round?: number;
  pass?: Pass;
  /** The number by which a body is known where others are drawn too. */
  ref?: number;
}

export type Look = FaceLook | LineLook | "points";

/** What holds for the whole picture: that a part of it is cut away, that one may look into bodies. */
export interface Mode {
  cut: boolean;
  hollow: boolean;
}

const made = new Map<string, ShaderMaterial>();

/** The material of a look: one and the same for all that looks so, and kept, so that it is made ready once. */
export function materialOf(look: Look, mode: Mode): ShaderMaterial {
  const name = `${JSON.stringify(look)} ${mode.cut} ${mode.hollow}`;
  let one = made.get(name);
  if (!one) {
    one = look === "points" ? dots(mode) : "wide" in look ? line(look, mode) : face(look, mode);
    made.set(name, one);
  }
  return one;
}

/** Gives back all that the graphics hold of them. */
export function forget(): void {
  made.forEach((one) => one.dispose());
  made.clear();
}

const cutting = (mode: Mode, cut = true): Record<string, number> => (mode.cut && cut ? { CUT: 1 } : {});

function face(look: FaceLook, mode: Mode): ShaderMaterial {
  const fill = look.fill ?? "plain";
  const sides = look.sides ?? (mode.hollow ? "both" : "near");
  const out = new ShaderMaterial({
    defines: { ...cutting(mode, look.cut), ...(fill === "dashed" ? { DASHED: 1 } : fill === "plain" ? {} : { FILLED: 1 }) },
    uniforms: {
      ...shared,
      uColour: colours[look.colour ?? "sheet"],
      uUnder: colours.sheet,
      uFill: { value: FILL[fill] },
      uOut: { value: look.out ?? 0 },
      uOutPx: { value: look.outPx ?? 0 },
      uRound: { value: look.round ?? 0 },
    },
    vertexShader: FACE_VERTEX,
    fragmentShader: FACE_FRAGMENT,
    side: sides === "near" ? FrontSide : sides === "far" ? BackSide : DoubleSide,
    transparent: fill === "veil",
    depthWrite: fill !== "veil",
    polygonOffset: true,
    polygonOffsetFactor: 1,
    polygonOffsetUnits: 1,
  });
  const unseen = { colorWrite: false, depthWrite: false, depthTest: false, stencilWrite: true, stencilFunc: AlwaysStencilFunc };
  const round = { stencilWrite: true, stencilRef: look.ref ?? 0, stencilFunc: NotEqualStencilFunc };
  switch (look.pass) {
    case "mark":
      return Object.assign(out, unseen, { stencilRef: look.ref ?? 0, stencilZPass: ReplaceStencilOp });
    case "edge":
      return Object.assign(out, round, { depthWrite: false });
    case "count":
      return Object.assign(out, unseen, { polygonOffset: false, stencilZPass: InvertStencilOp });
    case "hatch":
      return Object.assign(out, round, { stencilZPass: ZeroStencilOp, stencilZFail: ZeroStencilOp });
    case undefined:
      return out;
  }
}

/** The line round a body: its far faces, grown a little, which show past its edge only. */
export const rim = (wide: number, colour: Ink = "ink"): FaceLook => ({ colour, sides: "far", outPx: wide });

/** Bodies of one look in one. What is dashed knows the middle of each. */
export function geometryOf(all: readonly Inked[], middleOf?: (solid: Inked) => P3): BufferGeometry {
  const sum = (of: (solid: Inked) => number) => all.reduce((long, solid) => long + of(solid), 0);
  const [at, grow] = [new Float32Array(sum((one) => one.at.length)), new Float32Array(sum((one) => one.at.length))];
  const index = new Uint32Array(sum((one) => one.index.length));
  const middle = middleOf ? new Float32Array(at.length) : null;
  let [points, corners] = [0, 0];
  for (const one of all) {
    at.set(one.at, points);
    grow.set(one.grow, points);
    index.set(points === 0 ? one.index : one.index.map((i) => i + points / 3), corners);
    const own = middleOf?.(one);
    for (let i = 0; own && i < one.at.length; i += 3) {
      middle?.set(own, points + i);
    }
    points += one.at.length;
    corners += one.index.length;
  }
  const out = new BufferGeometry();
  out.setAttribute("position", new BufferAttribute(at, 3));
  out.setAttribute("grow", new BufferAttribute(grow, 3));
  if (middle) {
    out.setAttribute("middle", new BufferAttribute(middle, 3));
  }
  out.setIndex(new BufferAttribute(index, 1));
  return out;
}

const LINE_VERTEX = `
attribute vec3 aFrom, aTo;
attribute vec2 aSpan;
uniform float uScale, uWide, uNear, uDeep;
uniform vec2 uField;
#ifdef CUT
varying vec3 vAt;
#endif
varying float vAlong;
void main() {
  vec4 a = projectionMatrix * viewMatrix * vec4(aFrom, 1.0);
  vec4 b = projectionMatrix * viewMatrix * vec4(aTo, 1.0);
  vec2 way = (b.xy - a.xy) * 0.5 * uField;
  float far = length(way);
  way = far > 1e-4 ? way / far : vec2(1.0, 0.0);
  vec2 off = (position.x * 2.0 - 1.0) * way * 0.35 * uWide + position.y * vec2(-way.y, way.x) * 0.5 * uWide;
  vec4 at = mix(a, b, position.x);
  at.xy += off / (0.5 * uField);
  at.z -= (uNear + 1.2 / uScale) * uDeep;
#ifdef CUT
  vAt = mix(aFrom, aTo, position.x);
#endif
  vAlong = mix(aSpan.x, aSpan.y, position.x) * uScale;
  gl_Position = at;
}`;

const LINE_FRAGMENT = `
uniform vec3 uColour;
uniform vec4 uDash;
varying float vAlong;
${CUT}
void main() {
  cut();
#ifdef DASHED
  float s = mod(vAlong, uDash.x + uDash.y + uDash.z + uDash.w);
  if (s > uDash.x && (s < uDash.x + uDash.y || s > uDash.x + uDash.y + uDash.z)) discard;
#endif
  gl_FragColor = vec4(uColour, 1.0);
}`;

export interface LineLook {
  wide: number;
  colour?: Ink;
  /** Strokes and gaps [px]. */
  dash?: readonly [number, number, number, number];
  cut?: boolean;
  near?: number;
  /** Drawn only where something stands before it. */
  hidden?: boolean;
  /** Drawn over all. */
  over?: boolean;
}

/** Dashes of the sheet [px]. */
export const DASH = {
  assumed: [6, 4, 0, 0],
  chain: [12, 3, 2, 3],
  hidden: [4, 4, 0, 0],
  before: [2, 3, 0, 0],
} as const;

/** The corners of a piece of line: at which end, on which side. */
const CORNERS = [0, -1, 0, 1, -1, 0, 1, 1, 0, 0, 1, 0];
const PAIR = [0, 1, 2, 0, 2, 3];

/** Lines through points. Each piece is two triangles of its own: a processor draws copies of one far more slowly. */
export function stretches(all: readonly (readonly P3[])[]): BufferGeometry {
  const corner: number[] = [];
  const from: number[] = [];
  const to: number[] = [];
  const span: number[] = [];
  const index: number[] = [];
  for (const line of all) {
    const sums = along(line);
    for (let i = 1; i < line.length; i += 1) {
      const [a, b] = [line[i - 1], line[i]];
      if (a && b) {
        const first = corner.length / 3;
        index.push(...PAIR.map((at) => first + at));
        corner.push(...CORNERS);
        for (let k = 0; k < 4; k += 1) {
          from.push(...a);
          to.push(...b);
          span.push(sums[i - 1] ?? 0, sums[i] ?? 0);
        }
      }
    }
  }
  const out = new BufferGeometry();
  const set = (name: string, values: number[], size: number) => out.setAttribute(name, new BufferAttribute(new Float32Array(values), size));
  set("position", corner, 3);
  set("aFrom", from, 3);
  set("aTo", to, 3);
  set("aSpan", span, 2);
  return out.setIndex(index);
}

/** As wide as asked wherever it stands. */
function line(look: LineLook, mode: Mode): ShaderMaterial {
  return new ShaderMaterial({
    defines: { ...cutting(mode, look.cut), ...(look.dash ? { DASHED: 1 } : {}) },
    uniforms: {
      ...shared,
      uColour: colours[look.colour ?? "ink"],
      uWide: { value: look.wide },
      uDash: { value: new Vector4(...(look.dash ?? [0, 0, 0, 0])) },
      uNear: { value: look.near ?? 0 },
    },
    vertexShader: LINE_VERTEX,
    fragmentShader: LINE_FRAGMENT,
    side: DoubleSide,
    depthWrite: false,
    depthTest: !look.over,
    depthFunc: look.hidden ? GreaterDepth : LessEqualDepth,
  });
}

const POINT_VERTEX = `
uniform float uRatio;
#ifdef CUT
varying vec3 vAt;
#endif
void main() {
#ifdef CUT
  vAt = position;
#endif
  gl_Position = projectionMatrix * viewMatrix * vec4(position, 1.0);
  gl_PointSize = 1.5 * uRatio;
}`;
const POINT_FRAGMENT = `
uniform vec3 uColour;
${CUT}
void main() {
  cut();
  gl_FragColor = vec4(uColour, 1.0);
}`;

/** Points in the colour of fine lines. */
function dots(mode: Mode): ShaderMaterial {
  return new ShaderMaterial({ defines: cutting(mode), uniforms: { ...shared, uColour: colours.line }, vertexShader: POINT_VERTEX, fragmentShader: POINT_FRAGMENT });
}

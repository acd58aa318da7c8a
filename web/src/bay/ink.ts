/**
 * Ink for the drawing in space: faces in the colour of the sheet, lines as wide on the screen as on any other picture,
 * hatches that lie in the picture. No light.
 */
import {
  BackSide,
  BufferAttribute,
  BufferGeometry,
  Color,
  DoubleSide,
  FrontSide,
  GreaterDepth,
  InstancedBufferAttribute,
  InstancedBufferGeometry,
  LessEqualDepth,
  Mesh,
  ShaderMaterial,
  Vector2,
  Vector4,
  type Side,
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

const CUT = `
uniform vec4 uPlane;
uniform float uCut;
varying vec3 vAt;
bool isCut() { return uCut > 0.5 && dot(uPlane.xyz, vAt) > uPlane.w; }
`;

const FACE_VERTEX = `
attribute vec3 grow;
uniform float uScale, uOut, uOutPx, uDeep, uNear;
varying vec3 vAt;
varying vec3 vOut;
varying vec2 vFlat;
void main() {
  vec3 at = position + grow * (uOut + uOutPx / uScale);
  vAt = position;
  vOut = (viewMatrix * vec4(grow, 0.0)).xyz;
  vec4 seen = viewMatrix * vec4(at, 1.0);
  vFlat = seen.xy;
  gl_Position = projectionMatrix * seen;
  gl_Position.z -= uNear * uDeep;
}`;

const FACE_FRAGMENT = `
uniform vec3 uColour, uUnder;
uniform float uRatio, uScale, uRound;
uniform vec2 uOrigin, uMiddle;
uniform int uFill;
varying vec3 vOut;
varying vec2 vFlat;
${CUT}
float ruled(float s, float apart) { return clamp((0.5 - abs(mod(s, apart) - 0.5 * apart)) * uRatio + 0.5, 0.0, 1.0); }
void main() {
  if (isCut()) discard;
  vec2 p = gl_FragCoord.xy / uRatio - uOrigin;
  float up = (p.x - p.y) * 0.70711, down = (p.x + p.y) * 0.70711;
  float ink = 1.0, thick = 1.0;
  if (uFill == 1) ink = ruled(up, 6.0);
  else if (uFill == 2) ink = max(ruled(up, 4.0), ruled(down, 4.0));
  else if (uFill == 3) ink = length(mod(p, 6.0) - 3.0) < 0.9 ? 1.0 : 0.0;
  else if (uFill == 4) thick = ruled(up, 8.0);
  else if (uFill == 5) ink = ruled(down, 6.0);
  else if (uFill == 6) {
    vec2 out2 = normalize(vOut.xy + vec2(1e-5, 0.0));
    float along = dot(vFlat - uMiddle, vec2(-out2.y, out2.x)) * uScale + atan(out2.y, out2.x) * uRound * uScale;
    if (mod(along, 10.0) > 6.0) discard;
  }
  gl_FragColor = vec4(mix(uUnder, uColour, ink), thick);
}`;

export interface FaceLook {
  colour?: Ink;
  fill?: Fill;
  side?: Side;
  /** Grown by so much [m], [px]. */
  out?: number;
  outPx?: number;
  cut?: boolean;
  /** Nearer to the eye than it is [m]. */
  near?: number;
  /** Radius about which its dashes go round corners [m]. */
  round?: number;
}

export function face(look: FaceLook): ShaderMaterial {
  const fill = look.fill ?? "plain";
  return new ShaderMaterial({
    uniforms: {
      ...shared,
      uColour: colours[look.colour ?? "sheet"],
      uUnder: colours.sheet,
      uFill: { value: FILL[fill] },
      uOut: { value: look.out ?? 0 },
      uOutPx: { value: look.outPx ?? 0 },
      uCut: { value: (look.cut ?? true) ? 1 : 0 },
      uNear: { value: look.near ?? 0 },
      uMiddle: { value: new Vector2() },
      uRound: { value: look.round ?? 0 },
    },
    vertexShader: FACE_VERTEX,
    fragmentShader: FACE_FRAGMENT,
    side: look.side ?? DoubleSide,
    transparent: fill === "veil",
    depthWrite: fill !== "veil",
    polygonOffset: true,
    polygonOffsetFactor: 1,
    polygonOffsetUnits: 1,
  });
}

/** The line round a body: its far faces, grown a little, which show past its edge only. */
export const rim = (wide: number, colour: Ink = "ink"): ShaderMaterial => face({ colour, side: BackSide, outPx: wide });
export { BackSide, DoubleSide, FrontSide };

export function geometryOf(solid: Inked): BufferGeometry {
  const out = new BufferGeometry();
  out.setAttribute("position", new BufferAttribute(solid.at, 3));
  out.setAttribute("grow", new BufferAttribute(solid.grow, 3));
  out.setIndex(new BufferAttribute(solid.index, 1));
  return out;
}

const LINE_VERTEX = `
attribute vec3 aFrom, aTo;
attribute vec2 aSpan;
uniform float uScale, uWide, uNear, uDeep;
uniform vec2 uField;
varying vec3 vAt;
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
  vAt = mix(aFrom, aTo, position.x);
  vAlong = mix(aSpan.x, aSpan.y, position.x) * uScale;
  gl_Position = at;
}`;

const LINE_FRAGMENT = `
uniform vec3 uColour;
uniform vec4 uDash;
varying float vAlong;
${CUT}
void main() {
  if (isCut()) discard;
  float whole = uDash.x + uDash.y + uDash.z + uDash.w;
  if (whole > 0.0) {
    float s = mod(vAlong, whole);
    if (s > uDash.x && (s < uDash.x + uDash.y || s > uDash.x + uDash.y + uDash.z)) discard;
  }
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

/** Lines through points, as wide as asked wherever they stand. */
export function lines(all: readonly (readonly P3[])[], look: LineLook): Mesh {
  const from: number[] = [];
  const to: number[] = [];
  const span: number[] = [];
  for (const line of all) {
    const sums = along(line);
    for (let i = 1; i < line.length; i += 1) {
      const [a, b] = [line[i - 1], line[i]];
      if (a && b) {
        from.push(...a);
        to.push(...b);
        span.push(sums[i - 1] ?? 0, sums[i] ?? 0);
      }
    }
  }
  const geometry = new InstancedBufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(new Float32Array([0, -1, 0, 1, -1, 0, 1, 1, 0, 0, 1, 0]), 3));
  geometry.setIndex([0, 1, 2, 0, 2, 3]);
  geometry.setAttribute("aFrom", new InstancedBufferAttribute(new Float32Array(from), 3));
  geometry.setAttribute("aTo", new InstancedBufferAttribute(new Float32Array(to), 3));
  geometry.setAttribute("aSpan", new InstancedBufferAttribute(new Float32Array(span), 2));
  geometry.instanceCount = span.length / 2;
  const material = new ShaderMaterial({
    uniforms: {
      ...shared,
      uColour: colours[look.colour ?? "ink"],
      uWide: { value: look.wide },
      uDash: { value: new Vector4(...(look.dash ?? [0, 0, 0, 0])) },
      uCut: { value: (look.cut ?? true) ? 1 : 0 },
      uNear: { value: look.near ?? 0 },
    },
    vertexShader: LINE_VERTEX,
    fragmentShader: LINE_FRAGMENT,
    side: DoubleSide,
    depthWrite: false,
    depthTest: !look.over,
    depthFunc: look.hidden ? GreaterDepth : LessEqualDepth,
  });
  const mesh = new Mesh(geometry, material);
  mesh.frustumCulled = false;
  return mesh;
}

const POINT_VERTEX = `
uniform float uRatio;
varying vec3 vAt;
void main() {
  vAt = position;
  gl_Position = projectionMatrix * viewMatrix * vec4(position, 1.0);
  gl_PointSize = 1.5 * uRatio;
}`;
const POINT_FRAGMENT = `
uniform vec3 uColour;
${CUT}
void main() {
  if (isCut()) discard;
  gl_FragColor = vec4(uColour, 1.0);
}`;

/** Points in the colour of fine lines. */
export function dots(): ShaderMaterial {
  return new ShaderMaterial({
    uniforms: { ...shared, uColour: colours.line, uCut: { value: 1 } },
    vertexShader: POINT_VERTEX,
    fragmentShader: POINT_FRAGMENT,
  });
}

import { describe, expect, it } from "vitest";
import { ballOf, cloudUnder, isSeen, meets, under, type Target } from "./picking";
import { block, tube, type Solid } from "./tube";

const target = (key: string | null, mesh: Solid): Target => ({ key, mesh, ball: ballOf(mesh) });
const cube = (x: number) => block([x, 0, 0], [0.5, 0.5, 0.5], [[1, 0, 0], [0, 1, 0], [0, 0, 1]]);
const ALONG = { from: [-10, 0.1, 0.2] as [number, number, number], way: [1, 0, 0] as [number, number, number] };

describe("under the hand", () => {
  it("lies the nearest body", () => {
    const hit = under([target("far", cube(4)), target("near", cube(0))], ALONG, null);
    expect(hit?.key).toBe("near");
    expect(hit?.at).toEqual([-0.5, 0.1, 0.2].map((one) => expect.closeTo(one, 9)));
  });

  it("lies the next one where the first has been cut away", () => {
    // All aft of 1 is gone.
    const plane = { normal: [-1, 0, 0] as [number, number, number], at: -1 };
    expect(under([target("far", cube(4)), target("near", cube(0))], ALONG, plane)?.key).toBe("far");
  });

  it("lies nothing beside them", () => {
    expect(under([target("near", cube(0))], { ...ALONG, from: [-10, 0.6, 0] }, null)).toBeNull();
    expect(meets(cube(0), { from: [-10, 0.49, 0], way: [1, 0, 0] }, null)).toBeCloseTo(9.5, 9);
  });

  it("lies nothing that stands behind the eye", () => {
    expect(meets(cube(0), { from: [2, 0.1, 0.2], way: [1, 0, 0] }, null)).toBe(Infinity);
    // From within it is the far wall.
    expect(meets(cube(0), { from: [0, 0.1, 0.2], way: [1, 0, 0] }, null)).toBeCloseTo(0.5, 9);
    expect(cloudUnder([1, 0.1, 0.2], { from: [2, 0.1, 0.2], way: [1, 0, 0] }, 0.01, null)).toBeNull();
  });

  it("lies a hose where it is round", () => {
    const hose = tube([[0, -1, 0], [0, 1, 0]], 0.05, 64);
    expect(meets(hose, { from: [-1, 0, 0.049], way: [1, 0, 0] }, null)).toBeLessThan(1);
    expect(meets(hose, { from: [-1, 0, 0.051], way: [1, 0, 0] }, null)).toBe(Infinity);
  });

  it("lies the nearest point of a cloud that is near enough", () => {
    const points = [3, 0.1, 0.2, 1, 0.104, 0.2, 0, 0.3, 0.2];
    expect(cloudUnder(points, ALONG, 0.005, null)?.at).toEqual([1, 0.104, 0.2]);
    expect(cloudUnder(points, ALONG, 0.003, null)?.at).toEqual([3, 0.1, 0.2]);
    expect(cloudUnder([0, 5, 5], ALONG, 0.01, null)).toBeNull();
  });
});

it("a mark is seen where nothing but its own stands before it", () => {
  const before = target("cold", cube(0));
  expect(isSeen([4, 0.1, 0.2], ALONG, [before], "hot.from", null, 0.004)).toBe(false);
  expect(isSeen([4, 0.1, 0.2], ALONG, [before], "cold.from", null, 0.004)).toBe(true);
  expect(isSeen([-2, 0.1, 0.2], ALONG, [before], "hot.from", null, 0.004)).toBe(true);
});

it("a ball holds every point of its mesh", () => {
  const { at, radius } = ballOf(cube(4));
  expect(at).toEqual([4, 0, 0]);
  expect(radius).toBeCloseTo(Math.sqrt(3) / 2, 9);
});

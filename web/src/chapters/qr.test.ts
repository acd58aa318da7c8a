import { expect, test } from "vitest";

import { pathOf } from "./qr";

/** Which modules a path covers, read back from it. */
function covered(path: string, side: number): boolean[][] {
  const field = Array.from({ length: side }, () => Array.from({ length: side }, () => false));
  for (const [, x, y, width] of path.matchAll(/M(\d+) (\d+)h(\d+)v1h-\d+z/g)) {
    for (let at = Number(x); at < Number(x) + Number(width); at += 1) {
      (field[Number(y)] as boolean[])[at] = true;
    }
  }
  return field;
}

test("every dark module is covered, no light one is, and four are quiet all round", () => {
  const modules = Array.from({ length: 29 }, (_, y) => Array.from({ length: 29 }, (_, x) => (x * 7 + y * 3 + x * y) % 5 < 2));
  const { side, path } = pathOf(modules);
  expect(side).toBe(37);
  const field = covered(path, side);
  for (let y = 0; y < side; y += 1) {
    for (let x = 0; x < side; x += 1) {
      expect(field[y]?.[x]).toBe(modules[y - 4]?.[x - 4] ?? false);
    }
  }
});

test("a code without dark modules has no path", () => {
  expect(pathOf([[false]])).toEqual({ side: 9, path: "" });
});

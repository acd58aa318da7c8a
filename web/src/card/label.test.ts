import { expect, test } from "vitest";

import { labelOf, LONGEST } from "./label";

test("a label tells what and where, and is short", () => {
  expect(labelOf("take one clip off", "B1")).toBe("take one clip off: B1");
  expect(labelOf("take one clip off", null)).toBe("take one clip off");
  const long = labelOf("put a worm clip 32-50 of 316 on in place of the T-bolt", "B6");
  expect([...long].length).toBeLessThanOrEqual(LONGEST);
  expect(long).toMatch(/^put a worm clip .*…: B6$/);
});

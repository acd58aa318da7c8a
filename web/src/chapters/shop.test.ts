import { expect, test } from "vitest";

import { bought, byShop, money, paid, parted } from "./shop";

test("lines stand by shop, in the order of the list", () => {
  const lines = [
    { shop: "chandler", name: "a" },
    { shop: "dealer", name: "b" },
    { shop: "chandler", name: "c" },
  ];
  expect(byShop(lines).map(({ shop, lines }) => [shop, lines.map((line) => line.name)])).toEqual([
    ["chandler", ["a", "c"]],
    ["dealer", ["b"]],
  ]);
});

test("amounts are set as a shop takes them", () => {
  expect(bought(3, "pieces")).toBe("3");
  expect(bought(3.4379999999999997, "m")).toBe("3.44\u00a0m");
  expect(bought(5, "L")).toBe("5\u00a0L");
});

test("a line without a price says so", () => {
  expect(paid({ each: null, currency: null, total: null })).toBe("no price");
  expect(paid({ each: 4.3, currency: "GBP", total: 21.5 })).toBe(money(21.5, "GBP"));
  expect(money(21.5, "GBP")).toBe("21.50\u00a0GBP");
});

test("what lies aboard is not bought", () => {
  const lines = [{ name: "a", buy: 0 }, { name: "b", buy: 2 }];
  expect(parted(lines)).toEqual({ bought: [lines[1]], aboard: [lines[0]] });
});

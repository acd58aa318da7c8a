/** How the lines of an order are put together and set; no amount is reckoned here. */

export interface Priced {
  each: number | null;
  currency: string | null;
  total: number | null;
}

/** Lines by shop, in the order in which the shops come first. */
export function byShop<L extends { shop: string }>(lines: readonly L[]): { shop: string; lines: L[] }[] {
  const shops = new Map<string, L[]>();
  for (const line of lines) {
    const own = shops.get(line.shop);
    if (own === undefined) {
      shops.set(line.shop, [line]);
    } else {
      own.push(line);
    }
  }
  return [...shops].map(([shop, own]) => ({ shop, lines: own }));
}

/** Lines of which anything is bought, and those that lie aboard already. */
export function parted<L extends { buy: number }>(lines: readonly L[]): { bought: L[]; aboard: L[] } {
  return { bought: lines.filter((line) => line.buy > 0), aboard: lines.filter((line) => line.buy <= 0) };
}

/** An amount as it is asked for in a shop: `3`, `0.6 m`, `5 L`. */
export function bought(amount: number, measure: string): string {
  // What is sent carries the dust of floating point: a shop cuts to the centimetre.
  const text = String(Number(amount.toFixed(2)));
  return measure === "pieces" ? text : `${text}\u00a0${measure}`;
}

/** Money, its currency behind it. */
export function money(amount: number, currency: string): string {
  return `${amount.toFixed(2)}\u00a0${currency}`;
}

/** What a line costs, or that nobody wrote a price. */
export function paid(line: Priced): string {
  return line.total === null || line.currency === null ? "no price" : money(line.total, line.currency);
}

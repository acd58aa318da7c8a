/** A code to scan, as one path: the program gives the modules, the page draws them. */

/** Modules of quiet round the code that a reader needs. */
export const QUIET = 4;
/** Size of a module in px. */
export const MODULE = 7;

/** One path over all dark modules, each run of a row as one bar; in modules, with the quiet zone. */
export function pathOf(modules: readonly (readonly boolean[])[]): { side: number; path: string } {
  let path = "";
  modules.forEach((row, y) => {
    let x = 0;
    while (x < row.length) {
      if (row[x] !== true) {
        x += 1;
        continue;
      }
      let to = x;
      while (row[to] === true) {
        to += 1;
      }
      path += `M${x + QUIET} ${y + QUIET}h${to - x}v1h${x - to}z`;
      x = to;
    }
  });
  return { side: modules.length + 2 * QUIET, path };
}

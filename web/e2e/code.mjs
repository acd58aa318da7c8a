/**
 * Reads the code that the page shows to a phone: a QR code of level M as ISO/IEC 18004 lays it out,
 * without a flaw in it, so that nothing has to be corrected.
 */

/** Blocks of level M by version: how many, and data in each; two groups where they differ (ISO/IEC 18004, table 9; from memory). */
const BLOCKS = {
  1: [[1, 16]],
  2: [[1, 28]],
  3: [[1, 44]],
  4: [[2, 32]],
  5: [[2, 43]],
  6: [[4, 27]],
};

const MASKS = [
  (r, c) => (r + c) % 2 === 0,
  (r) => r % 2 === 0,
  (_, c) => c % 3 === 0,
  (r, c) => (r + c) % 3 === 0,
  (r, c) => (Math.floor(r / 2) + Math.floor(c / 3)) % 2 === 0,
  (r, c) => ((r * c) % 2) + ((r * c) % 3) === 0,
  (r, c) => (((r * c) % 2) + ((r * c) % 3)) % 2 === 0,
  (r, c) => (((r + c) % 2) + ((r * c) % 3)) % 2 === 0,
];

/** The text of a code, given row by row; true is dark. */
export function readCode(rows) {
  const size = rows.length;
  const version = (size - 17) / 4;
  const blocks = BLOCKS[version];
  if (!blocks) {
    throw new Error(`a code of version ${version} is not read here`);
  }
  // Level and mask stand beside the corner, under a fixed pattern.
  const format = [0, 1, 2, 3, 4].map((c) => (rows[8][c] ? 1 : 0)).reduce((all, bit) => all * 2 + bit, 0) ^ 0b10101;
  if (format >> 3 !== 0) {
    throw new Error("the code is not of level M");
  }
  const mask = MASKS[format & 7];

  // What holds no data: corners with their formats, timing, and one pattern of alignment.
  const last = size - 7;
  const taken = (r, c) =>
    (r < 9 && c < 9) ||
    (r < 9 && c >= size - 8) ||
    (r >= size - 8 && c < 9) ||
    r === 6 ||
    c === 6 ||
    (version > 1 && Math.abs(r - last) <= 2 && Math.abs(c - last) <= 2);

  const bits = [];
  let up = true;
  for (let right = size - 1; right > 0; right -= 2) {
    if (right === 6) {
      right = 5;
    }
    for (let n = 0; n < size; n += 1) {
      const r = up ? size - 1 - n : n;
      for (const c of [right, right - 1]) {
        if (!taken(r, c)) {
          bits.push(rows[r][c] !== mask(r, c) ? 1 : 0);
        }
      }
    }
    up = !up;
  }
  const words = [];
  for (let at = 0; at + 8 <= bits.length; at += 8) {
    words.push(bits.slice(at, at + 8).reduce((all, bit) => all * 2 + bit, 0));
  }
  // Data of the blocks stand in turns.
  const [[count, each]] = blocks;
  const data = [];
  for (let block = 0; block < count; block += 1) {
    for (let n = 0; n < each; n += 1) {
      data.push(words[n * count + block]);
    }
  }
  const stream = data.flatMap((word) => [7, 6, 5, 4, 3, 2, 1, 0].map((n) => (word >> n) & 1));
  let at = 0;
  const take = (n) => stream.slice(at, (at += n)).reduce((all, bit) => all * 2 + bit, 0);
  let text = "";
  for (;;) {
    const mode = stream.length - at >= 4 ? take(4) : 0;
    if (mode === 0) {
      return text;
    }
    if (mode === 0b0100) {
      for (let left = take(8); left > 0; left -= 1) {
        text += String.fromCharCode(take(8));
      }
    } else if (mode === 0b0010) {
      const signs = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";
      let left = take(9);
      for (; left >= 2; left -= 2) {
        const pair = take(11);
        text += signs[Math.floor(pair / 45)] + signs[pair % 45];
      }
      text += left === 1 ? signs[take(6)] : "";
    } else if (mode === 0b0001) {
      let left = take(10);
      for (; left >= 3; left -= 3) {
        text += String(take(10)).padStart(3, "0");
      }
      text += left === 2 ? String(take(7)).padStart(2, "0") : left === 1 ? String(take(4)) : "";
    } else {
      throw new Error(`a part of mode ${mode} is not read here`);
    }
  }
}

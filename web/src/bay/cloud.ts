/** The points of a scan, in an order of which any beginning is spread over the whole. */

/** The same points, dealt out like cards: the first half of them shows all of it, only thinner. */
export function dealt(points: Float32Array): Float32Array {
  const count = Math.floor(points.length / 3);
  const out = new Float32Array(3 * count);
  // A step that has no part in common with the count comes past every point once.
  const step = coprime(Math.max(1, Math.floor(count * 0.618)), count);
  for (let i = 0, from = 0; i < count; i += 1, from = (from + step) % count) {
    out.set(points.subarray(3 * from, 3 * from + 3), 3 * i);
  }
  return out;
}

function coprime(start: number, count: number): number {
  for (let step = start; step < count; step += 1) {
    if (divisor(step, count) === 1) {
      return step;
    }
  }
  return 1;
}

function divisor(a: number, b: number): number {
  return b === 0 ? a : divisor(b, a % b);
}

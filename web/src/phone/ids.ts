/** Random names of entries. */

/**
 * Sixteen random bytes as hexadecimal digits. `crypto.randomUUID` is only there in a secure context, which
 * plain http on the boat's network is not; `getRandomValues` is there everywhere.
 */
export function freshId(fill: (bytes: Uint8Array<ArrayBuffer>) => void = (bytes) => void crypto.getRandomValues(bytes)): string {
  const bytes = new Uint8Array(16);
  fill(bytes);
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

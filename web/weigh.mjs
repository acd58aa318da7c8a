/** What the built page weighs: every file of `dist`, compressed as a server would; the last line is the sum. */
import { readFileSync, readdirSync, statSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";

const folder = new URL("dist/", import.meta.url).pathname;
let sum = 0;
for (const name of readdirSync(folder, { recursive: true }).map(String).sort()) {
  const path = join(folder, name);
  if (statSync(path).isFile()) {
    const bytes = gzipSync(readFileSync(path), { level: 9 }).length;
    sum += bytes;
    console.log(`   ${String(bytes).padStart(7)} ${name}`);
  }
}
console.log(`${sum} bytes compressed, the whole page`);

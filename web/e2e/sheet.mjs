/**
 * What the tests in a browser share: the program on a copy of a boat, the browser, hands that count
 * what they do, and pictures for human eyes.
 */
import { spawn } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, "../..");
const PROGRAM = process.env.HOSEWRIGHT ?? join(root, "target/debug/hosewright");
const BROWSER = process.env.HOSEWRIGHT_BROWSER ?? "/usr/bin/chromium";
const SHOTS = join(here, "shots");

export const DESK = { width: 1440, height: 900 };
export const PHONE = { width: 390, height: 844 };
/** Chapters in the order of the fore-edge. */
export const CHAPTERS = ["boat", "survey", "circuit", "route", "fit", "flow", "order", "drain", "build", "fill", "prove", "watch", "home"];

function freePort() {
  return new Promise((resolve, reject) => {
    const ears = createServer();
    ears.on("error", reject);
    ears.listen(0, "127.0.0.1", () => {
      const { port } = ears.address();
      ears.close(() => resolve(port));
    });
  });
}

/** Starts the program on a copy of a boat, or on an empty folder for `null`, and gives it once it answers. */
export async function start(more = [], boat = "dunlin") {
  const folder = mkdtempSync(join(tmpdir(), "hosewright-"));
  if (boat !== null) {
    cpSync(join(root, "boats", boat, "boat.toml"), join(folder, "boat.toml"));
  }
  const began = performance.now();
  const port = await freePort();
  const child = spawn(PROGRAM, ["serve", folder, "--port", String(port), "--no-open", ...more], {
    stdio: ["ignore", "pipe", "pipe"],
  });
  let log = "";
  const url = await new Promise((resolve, reject) => {
    const hear = (bytes) => {
      log += bytes;
      const ready = /^ready (http:\S+)/m.exec(log);
      if (ready) {
        resolve(ready[1]);
      }
    };
    child.stdout.on("data", hear);
    child.stderr.on("data", hear);
    child.on("error", reject);
    child.on("exit", (code) => reject(new Error(`the program ended with ${code}:\n${log}`)));
  });
  const file = join(folder, "boat.toml");
  return {
    url,
    port,
    folder,
    file,
    ready: performance.now() - began,
    log: () => log,
    text: () => readFileSync(file, "utf8"),
    write: (text) => writeFileSync(file, text),
    async stop() {
      await new Promise((resolve) => {
        child.once("exit", resolve);
        child.kill();
      });
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

export function launch() {
  return chromium.launch({ executablePath: BROWSER, args: ["--no-sandbox"] });
}

/** A fresh profile with one page; what the page complains of is gathered in `faults`. */
export async function sheet(browser, { viewport = DESK, url, ...more } = {}) {
  const context = await browser.newContext({ viewport, ...more });
  const page = await context.newPage();
  const faults = listen(page);
  if (url) {
    await open(page, url);
  }
  return { context, page, faults };
}

/** Gathers what a page complains of. */
export function listen(page) {
  const faults = [];
  page.on("pageerror", (fault) => faults.push(String(fault)));
  page.on("console", (line) => {
    // The browser itself writes there of a cut link, and of headers that plain http can't have.
    if (line.type() === "error" && !/Failed to load resource|net::ERR|Cross-Origin-Opener-Policy header has been ignored/.test(line.text())) {
      faults.push(line.text());
    }
  });
  return faults;
}

/** Opens an address and waits for the sheet, and for all that is being reckoned. */
export async function open(page, url) {
  await page.goto(url);
  await page.locator(".column, .hand, .survey-pad").first().waitFor();
  await settled(page);
}

/** Waits until nothing is being reckoned any more, and the page has asked for all that came of it. */
export async function settled(page) {
  let asked = performance.now();
  const ask = () => (asked = performance.now());
  page.on("requestfinished", ask);
  await page.waitForFunction(async () => (await (await fetch("/api/page")).json()).settled, null, { timeout: 120_000, polling: 250 });
  ask();
  const patience = performance.now() + 20_000;
  while (performance.now() - asked < 400 && performance.now() < patience) {
    await page.waitForTimeout(50);
  }
  page.off("requestfinished", ask);
}

/** A hand that counts its acts: a press, a tap, a key, a drag, or a value that is typed. */
export function hand(page) {
  const done = [];
  return {
    get acts() {
      return done.length;
    },
    done,
    async press(where, what) {
      done.push(`press ${what}`);
      await where.click();
    },
    async key(key) {
      done.push(key);
      await page.keyboard.press(key);
    },
    async type(where, text) {
      done.push(`type ${text}`);
      await where.fill(text);
    },
  };
}

/** The text of a thing with plain spaces: a unit stands behind a space that does not break. */
export async function words(where) {
  return (await where.innerText()).replaceAll("\u00a0", " ");
}

/** A small picture for human eyes. */
export async function shot(page, name) {
  mkdirSync(SHOTS, { recursive: true });
  await page.screenshot({ path: join(SHOTS, `${name}.png`), scale: "css" });
}

/** The value that 95 of 100 stay under. */
export function p95(values) {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.ceil(sorted.length * 0.95) - 1)];
}

/** Lines that one text has and the other has not. */
export function diff(before, after) {
  const [old, now] = [before.split("\n"), after.split("\n")];
  const out = [];
  for (let n = 0; n < Math.max(old.length, now.length); n += 1) {
    if (old[n] !== now[n]) {
      out.push({ line: n + 1, was: old[n], is: now[n] });
    }
  }
  return out;
}

/** Waits for what is looked for outside the page, such as a file. */
export async function until(what, test, patience = 5000) {
  const began = performance.now();
  for (;;) {
    const found = await test();
    if (found) {
      return performance.now() - began;
    }
    if (performance.now() - began > patience) {
      throw new Error(`${what}: not within ${patience} ms`);
    }
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}

/** How many of a page's pixels pass a test, given as shares. */
export async function pixels(page, other) {
  const bytes = await page.screenshot({ type: "png" });
  return other.evaluate(async (base) => {
    const image = new Image();
    image.src = `data:image/png;base64,${base}`;
    await image.decode();
    const canvas = new OffscreenCanvas(image.width, image.height);
    const pen = canvas.getContext("2d");
    pen.drawImage(image, 0, 0);
    const { data } = pen.getImageData(0, 0, image.width, image.height);
    let [bright, green, blue] = [0, 0, 0];
    for (let at = 0; at < data.length; at += 4) {
      bright += data[at] > 128 ? 1 : 0;
      green = Math.max(green, data[at + 1]);
      blue = Math.max(blue, data[at + 2]);
    }
    return { bright: bright / (data.length / 4), green, blue };
  }, bytes.toString("base64"));
}

/** Route: the bay is drawn in space, what is chosen is chosen everywhere, and it can be looked at from elsewhere. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { after, before, test } from "node:test";
import { chromium } from "playwright-core";
import { DESK, PHONE, pixels, sheet, shot, start } from "./sheet.mjs";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
/** Drawn by the processor, as where there is no graphics card. */
const SOFTLY = ["--no-sandbox", "--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"];
const FINGER = { viewport: PHONE, hasTouch: true, isMobile: true };

let browser;
let boat;
before(async () => {
  browser = await chromium.launch({ executablePath: process.env.HOSEWRIGHT_BROWSER ?? "/usr/bin/chromium", args: SOFTLY });
  boat = await start();
});
after(async () => {
  await browser.close();
  await boat.stop();
});

/** Opens Route and waits until the bay is drawn fine. */
async function route(page) {
  await page.evaluate(() => {
    history.pushState(null, "", "#/route");
    dispatchEvent(new PopStateEvent("popstate"));
  });
  await page.locator(".bay-ink[data-fine='yes']").waitFor({ timeout: 30_000 });
}

async function barriers(page) {
  await page.evaluate(AXE);
  return page.evaluate(async () => {
    const { violations } = await window.axe.run(document, { resultTypes: ["violations"], rules: { "label-content-name-mismatch": { enabled: true } } });
    return violations.map((one) => `${one.id}: ${one.nodes.map((node) => node.target.join(" ")).join(", ")}`);
  });
}

test("the drawing appears, a run is chosen in it and elsewhere, and it is looked at from another side", async () => {
  const { page, faults, context } = await sheet(browser, { url: boat.url });
  await route(page);
  const first = page.locator(".bay-table .mark-key").first();
  const mark = (await first.innerText()).trim();
  await first.click();
  assert.equal(await first.getAttribute("aria-pressed"), "true");
  await page.locator(".bay-label.chosen", { hasText: mark }).first().waitFor();
  // What is chosen in the strip is chosen here.
  const other = page.locator(".hits [data-mark]").first();
  const theirs = await other.getAttribute("data-mark");
  await other.focus();
  await page.keyboard.press("Enter");
  assert.equal(await other.getAttribute("aria-pressed"), "true", `${theirs} is chosen`);
  await page.getByLabel("look from").selectOption("starboard");
  await page.waitForFunction(() => /from starboard; bow to the right, port away/.test(document.querySelector(".bay-foot").innerText));
  const before = await page.locator(".bay-ink").getAttribute("data-drawn");
  await page.locator(".bay-box").focus();
  await page.keyboard.press("ArrowRight");
  await page.waitForFunction((had) => document.querySelector(".bay-ink").dataset.drawn !== had, before);
  assert.equal(await page.getByLabel("look from").inputValue(), "", "turned by a key it is no named look any more");
  await page.getByLabel("section").selectOption("athwart");
  await page.locator(".stepped output").waitFor();
  await shot(page, "bay-section");
  assert.deepEqual(faults, []);
  await context.close();
});

for (const [where, how] of [
  ["desk", { viewport: DESK }],
  ["phone", FINGER],
]) {
  for (const light of ["day", "night"]) {
    test(`no barrier that axe finds: ${where}, ${light}`, async () => {
      const { page, context } = await sheet(browser, { ...how, url: boat.url, bypassCSP: true });
      await page.evaluate((kept) => localStorage.setItem("hosewright.night", kept), light === "night" ? "yes" : "no");
      await page.reload();
      await page.locator(".column, .hand").first().waitFor();
      await route(page);
      assert.deepEqual(await barriers(page), []);
      await shot(page, `bay-${where}-${light}`);
      if (light === "night") {
        const plain = await (await browser.newContext()).newPage();
        const { bright, green, blue } = await pixels(page, plain);
        assert.ok(green <= 82 && blue <= 66 && bright <= 0.1, `G ${green}, B ${blue}, ${(100 * bright).toFixed(1)} % bright`);
        await plain.context().close();
      }
      await context.close();
    });
  }
}

/** A skin of so many points: those of a scan of twice as many triangles. */
function cloud(count, { low, high }) {
  const out = new Float32Array(3 * count);
  for (let i = 0; i < count; i += 1) {
    const [u, v] = [(i * 0.618034) % 1, (i * 0.754878) % 1];
    const bow = Math.sin(Math.PI * v);
    out.set([low[0] + u * (high[0] - low[0]), low[1] + v * (high[1] - low[1]), high[2] - bow * (high[2] - low[2])], 3 * i);
  }
  return Buffer.from(out.buffer);
}

test("turning the points of 100,000 triangles", async (t) => {
  const { page, context } = await sheet(browser);
  let box = { low: [0, 0, 0], high: [1, 1, 1] };
  await page.route("**/api/bay?*", async (call) => {
    const answer = await call.fetch();
    const bay = await answer.json();
    box = { low: bay.low, high: bay.high };
    await call.fulfill({ response: answer, json: { ...bay, scan: { triangles: 100_000, error: "", laid: "for a test" } } });
  });
  await page.route("**/api/bay/points", (call) => call.fulfill({ contentType: "application/octet-stream", body: cloud(50_000, box) }));
  await page.goto(boat.url);
  await page.locator(".column").waitFor();
  await route(page);
  await page.waitForTimeout(1000);
  const { x, y, width, height } = await page.locator(".bay-box").boundingBox();
  const drawn = () => page.evaluate(() => Number(document.querySelector(".bay-ink").dataset.drawn));
  await page.mouse.move(x + width / 2, y + height / 2);
  await page.mouse.down();
  const had = await drawn();
  const began = performance.now();
  for (let step = 1; performance.now() - began < 3000; step += 1) {
    await page.mouse.move(x + width / 2 + 100 * Math.sin(step / 15), y + height / 2 + 30 * Math.sin(step / 22));
  }
  const rate = ((await drawn()) - had) / ((performance.now() - began) / 1000);
  await page.mouse.up();
  const still = performance.now();
  await page.locator(".bay-ink[data-fine='yes']").waitFor();
  t.diagnostic(`${rate.toFixed(0)} pictures a second while turned; the fine one ${(performance.now() - still).toFixed(0)} ms after the hand rests`);
  assert.ok(rate > 0, "it turns");
  await context.close();
});

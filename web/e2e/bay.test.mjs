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
  await page.locator(".stepped output", { hasText: /^[+\u2212]?\d+\s?mm$/ }).waitFor();
  await shot(page, "bay-section");
  assert.deepEqual(faults, []);
  await context.close();
});

test("a distance is measured in the units of the page, and is asked for again in others", async () => {
  const { page, faults, context } = await sheet(browser, { url: boat.url });
  await route(page);
  await page.getByRole("button", { name: "measure", exact: true }).click();
  const [from, to] = [page.locator(".measure-bar select").nth(0), page.locator(".measure-bar select").nth(1)];
  const keys = await from.locator("option:not(:disabled)").evaluateAll((all) => all.map((one) => one.value));
  assert.ok(keys.length > 1 && keys.every((key) => key.includes(".")), `joints only: ${keys}`);
  await from.selectOption(keys[0]);
  await to.selectOption(keys[1]);
  await page.locator(".bay-said", { hasText: /\d mm ± \d/ }).waitFor();
  await page.getByRole("button", { name: "inch", exact: true }).click();
  await page.locator(".bay-said", { hasText: /\d in ± \d/ }).waitFor();
  // A point of the picture lies on something of which nobody said how far it is off.
  const { x, y, width, height } = await page.locator(".bay-box").boundingBox();
  const unknown = page.locator(".bay-said", { hasText: "tolerance not known" });
  for (let at = 0; at < 60 && !(await unknown.isVisible()); at += 1) {
    await page.mouse.click(x + (0.2 + 0.6 * ((at * 0.618) % 1)) * width, y + (0.2 + 0.6 * ((at * 0.755) % 1)) * height);
    await page.waitForTimeout(200);
  }
  await unknown.waitFor();
  await page.getByRole("button", { name: "mm", exact: true }).click();
  assert.deepEqual(faults, []);
  await context.close();
});

test("a bay that comes anew while a hand turns it rests when the hand lets go", async () => {
  const { page, faults, context } = await sheet(browser, { url: boat.url });
  await route(page);
  const { x, y, width, height } = await page.locator(".bay-box").boundingBox();
  await page.mouse.move(x + width / 2, y + height / 2);
  await page.mouse.down();
  await page.mouse.move(x + width / 2 + 40, y + height / 2, { steps: 4 });
  await page.locator(".bay-over.moving").waitFor();
  const anew = page.waitForResponse(/\/api\/bay\?/, { timeout: 30_000 });
  boat.write(`${boat.text()}\n# turned meanwhile\n`);
  await anew;
  await page.waitForTimeout(300);
  await page.mouse.move(x + width / 2 + 80, y + height / 2, { steps: 4 });
  await page.mouse.up();
  await page.locator(".bay-over.moving").waitFor({ state: "detached" });
  await page.locator(".bay-ink[data-fine='yes']").waitFor();
  assert.deepEqual(faults, []);
  await context.close();
});

test("a drawing that the browser has lost is said to be lost, and comes back", async () => {
  const { page, context } = await sheet(browser, { url: boat.url });
  await route(page);
  await page.evaluate(() => {
    window.lose = document.querySelector(".bay-ink").getContext("webgl2").getExtension("WEBGL_lose_context");
    window.lose.loseContext();
  });
  await page.locator(".bay-foot .fault", { hasText: "has lost the drawing" }).waitFor();
  await page.evaluate(() => window.lose.restoreContext());
  await page.locator(".bay-foot .fault").waitFor({ state: "detached" });
  await page.locator(".bay-ink[data-fine='yes']").waitFor();
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

/** Turns the bay by the hand for three seconds; what is wanted of it: 15 pictures a second, and the fine one within 300 ms. */
async function turned(page, url) {
  let box = { low: [0, 0, 0], high: [1, 1, 1] };
  await page.route("**/api/bay?*", async (call) => {
    const answer = await call.fetch();
    const bay = await answer.json();
    box = { low: bay.low, high: bay.high };
    await call.fulfill({ response: answer, json: { ...bay, scan: { triangles: 100_000, error: "", laid: "for a test" } } });
  });
  await page.route("**/api/bay/points*", (call) => call.fulfill({ contentType: "application/octet-stream", body: cloud(50_000, box) }));
  await page.goto(url);
  await page.locator(".column").waitFor();
  await route(page);
  await page.waitForTimeout(1000);
  const { x, y, width, height } = await page.locator(".bay-box").boundingBox();
  const told = (name) => page.evaluate((key) => Number(document.querySelector(".bay-ink").dataset[key]), name);
  const turn = async (long) => {
    const began = performance.now();
    for (let step = 1; performance.now() - began < long; step += 1) {
      await page.mouse.move(x + width / 2 + 100 * Math.sin(step / 15), y + height / 2 + 30 * Math.sin(step / 22));
    }
    return (performance.now() - began) / 1000;
  };
  const fine = async () => {
    const still = performance.now();
    await page.locator(".bay-ink[data-fine='yes']").waitFor();
    return (performance.now() - still).toFixed(0);
  };
  await page.mouse.move(x + width / 2, y + height / 2);
  await page.mouse.down();
  const had = await told("drawn");
  const seconds = await turn(3000);
  const rate = ((await told("drawn")) - had) / seconds;
  const calls = await told("calls");
  const held = await fine();
  await turn(300);
  await page.mouse.up();
  const free = await fine();
  return { rate, said: `${rate.toFixed(0)} pictures a second while turned, ${calls} calls each; the fine one ${held} ms after the hand holds still, ${free} ms after it lets go` };
}

/** Where there is no graphics card a browser draws in space by the processor, and all else as well; or all else in its own way. */
for (const [how, args] of [
  ["all of it drawn in space by the processor", SOFTLY],
  ["a browser that finds no graphics card", ["--no-sandbox", "--enable-unsafe-swiftshader"]],
]) {
  test(`turning the points of 100,000 triangles: ${how}`, async (t) => {
    const own = await chromium.launch({ executablePath: process.env.HOSEWRIGHT_BROWSER ?? "/usr/bin/chromium", args });
    const { page, context } = await sheet(own);
    const { rate, said } = await turned(page, boat.url);
    t.diagnostic(said);
    assert.ok(rate > 0, "it turns");
    await context.close();
    await own.close();
  });
}

/** Within everybody's reach: no barrier that axe finds, red light that leaves the eyes their night, and large type. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { after, before, test } from "node:test";
import { CHAPTERS, DESK, PHONE, launch, pixels, settled, sheet, shot, start } from "./sheet.mjs";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const FINGER = { viewport: PHONE, hasTouch: true, isMobile: true };

let browser;
let boat;
before(async () => {
  browser = await launch();
  boat = await start();
});
after(async () => {
  await browser.close();
  await boat.stop();
});

async function night(page, on) {
  await page.evaluate((kept) => localStorage.setItem("hosewright.night", kept), on ? "yes" : "no");
  await page.reload();
  await page.locator(".column, .hand, .survey-pad").first().waitFor();
}

async function chapter(page, key) {
  await page.evaluate((to) => {
    history.pushState(null, "", `#/${to}`);
    dispatchEvent(new PopStateEvent("popstate"));
  }, key);
  await page.waitForTimeout(250);
  const here = await page.evaluate(() => document.querySelector(".edge [aria-current]")?.dataset.chapter);
  assert.ok(here === undefined || here === key, `${here} is open instead of ${key}`);
  // What is fetched for a chapter says so in its place until it is there.
  await page.waitForFunction(() => !/\bcoming\b|is being fetched/.test(document.body.innerText), null, { timeout: 20_000 });
}

/** What axe finds on the page as it is. */
async function barriers(page) {
  await page.evaluate(AXE);
  const found = await page.evaluate(async () => {
    // Who works the page by voice says what he reads: the name of a button holds its words.
    const rules = { "label-content-name-mismatch": { enabled: true } };
    const { violations } = await window.axe.run(document, { resultTypes: ["violations"], rules });
    return violations.map((one) => `${one.id}: ${one.nodes.length} × ${one.nodes[0].target.join(" ")} ${one.nodes[0].failureSummary.split("\n").slice(1).join(" ")}`);
  });
  return found;
}

test("the search for barriers finds one", async () => {
  const { page, context } = await sheet(browser, { url: boat.url, bypassCSP: true });
  await page.evaluate(() => document.querySelector(".title-block").append(document.createElement("button")));
  assert.match((await barriers(page)).join(), /button-name/);
  // The rule about names and words is not on by itself.
  await page.evaluate(() => {
    const button = document.querySelector(".title-block > button:last-child");
    button.textContent = "take a boat";
    button.setAttribute("aria-label", "leave the harbour");
  });
  assert.match((await barriers(page)).join(), /label-content-name-mismatch/);
  await context.close();
});

for (const [where, how] of [
  ["desk", { viewport: DESK }],
  ["phone", FINGER],
]) {
  for (const light of ["day", "night"]) {
    test(`no barrier that axe finds in any chapter: ${where}, ${light}`, async () => {
      // The policy is lifted here alone, so that the tool can be put into the page.
      const { page, context } = await sheet(browser, { ...how, url: boat.url, bypassCSP: true });
      await night(page, light === "night");
      await settled(page);
      const faults = [];
      for (const key of CHAPTERS) {
        await chapter(page, key);
        faults.push(...(await barriers(page)).map((one) => `${key}: ${one}`));
        if (where === "desk") {
          await shot(page, `${light}-${key}`);
        }
      }
      // A card with its working and a slip open, which no chapter has by itself.
      if (where === "desk") {
        await chapter(page, "fit");
        await page.locator('[data-verdict="fit.cold.to.clip"]').click();
        await page.locator(".card .ruled").first().click();
        await page.locator(".slip input").first().waitFor();
        faults.push(...(await barriers(page)).map((one) => `card with a slip: ${one}`));
      }
      assert.deepEqual(faults, []);
      await context.close();
    });
  }
}

for (const [where, how] of [
  ["desk", { viewport: DESK }],
  ["phone", FINGER],
]) {
  test(`red light: nothing of it is green, blue or too bright: ${where}`, async (t) => {
    const { page, context } = await sheet(browser, { ...how, url: boat.url });
    const plain = await (await browser.newContext()).newPage();
    await night(page, true);
    await settled(page);
    const faults = [];
    let most = 0;
    for (const key of CHAPTERS) {
      await chapter(page, key);
      const { bright, green, blue } = await pixels(page, plain);
      most = Math.max(most, bright);
      if (green > 82 || blue > 66 || bright > 0.1) {
        faults.push(`${key}: G ${green}, B ${blue}, ${(100 * bright).toFixed(1)} % bright`);
        await shot(page, `red-${where}-${key}`);
      }
    }
    t.diagnostic(`at most ${(100 * most).toFixed(1)} % of the pixels are bright (bar: 10 %)`);
    assert.deepEqual(faults, []);
    await context.close();
    await plain.context().close();
  });
}

for (const [zoom, viewport] of [
  [200, { width: 640, height: 512 }],
  [400, { width: 320, height: 256 }],
]) {
  test(`at ${zoom} % of a window of 1280×1024 nothing scrolls sideways, and she can be mended`, async () => {
    const own = await start();
    try {
      const { page, context } = await sheet(browser, { viewport, deviceScaleFactor: 2, url: own.url });
      const faults = [];
      for (const key of CHAPTERS) {
        await chapter(page, key);
        const over = await page.evaluate(() => {
          const room = document.documentElement.clientWidth;
          const wide = document.scrollingElement.scrollWidth;
          // Text that is cut off at the side, outside of what scrolls by itself.
          const cut = [...document.querySelectorAll("p, h1, h2, h3, button, dd, dt, li")]
            .filter((one) => {
              const { right, left, width, height } = one.getBoundingClientRect();
              const scrolls = one.closest(".strip-box, .unseen, .scrolls, svg, table");
              return width > 1 && height > 1 && !scrolls && (right > room + 1 || left < -1) && getComputedStyle(one).visibility !== "hidden" && one.getClientRects().length > 0;
            })
            .map((one) => `${one.tagName}.${one.className} ${one.innerText.slice(0, 30)}`);
          return { room, wide, cut };
        });
        if (over.wide > over.room || over.cut.length > 0) {
          faults.push(`${key}: ${over.wide} px wide in ${over.room}; cut off: ${over.cut.slice(0, 3).join(" | ")}`);
        }
      }
      await chapter(page, "boat");
      await shot(page, `zoom-${zoom}`);
      assert.deepEqual(faults, []);
      const see = page.getByRole("button", { name: "See B1" });
      await see.click();
      await page.getByRole("button", { name: "Take one clip" }).click();
      await page.getByRole("region", { name: "B1 sound" }).waitFor();
      await context.close();
    } finally {
      await own.stop();
    }
  });
}

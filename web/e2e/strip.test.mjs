/** The strip in a real browser: its length, heel and trim, what was before, what branches off; and a new boat on it. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { DESK, PHONE, launch, sheet, shot, start, until, words } from "./sheet.mjs";

let browser;
before(async () => {
  browser = await launch();
});
after(() => browser.close());

/** How wide the main strip is drawn [px]. */
const wide = (page) => page.locator(".strip-box > .strip-paper svg.drawing").evaluate((svg) => Number(svg.getAttribute("width")));
const widthIs = (page, fits) => until("the strip has that width", async () => fits(await wide(page)));
const said = (page) => words(page.locator(".tilts"));

test("the strip's length: wheel, keys and bar do the same, and what is under the hand stays there", async () => {
  const boat = await start();
  try {
    const { page, context, faults } = await sheet(browser, { url: boat.url });
    const whole = await wide(page);
    const tall = await page.locator(".strip-box > .strip-paper svg.drawing").getAttribute("height");
    const box = await page.locator(".strip-box").boundingBox();
    await page.mouse.move(box.x + 800, box.y + 150);
    await page.mouse.wheel(0, -300);
    await widthIs(page, (now) => now > 1.3 * whole);
    const at = await page.locator(".strip-box").evaluate((one) => (one.scrollLeft + 800) / one.scrollWidth);
    assert.ok(Math.abs(at - 800 / box.width) < 0.02, `the wheel holds its place: ${at}`);
    assert.equal(await page.locator(".strip-box > .strip-paper svg.drawing").getAttribute("height"), tall, "heights stay");

    await page.locator('.strip [data-mark="B1"]').focus();
    await page.keyboard.press("0");
    await widthIs(page, (now) => now === whole);
    await page.keyboard.press("+");
    await widthIs(page, (now) => Math.abs(now - 1.5 * whole) < 2);
    await page.keyboard.press("-");
    await widthIs(page, (now) => now === whole);
    await page.getByRole("slider", { name: "stretch" }).fill("2");
    await widthIs(page, (now) => Math.abs(now - 2 * whole) < 2);
    await page.getByRole("button", { name: "whole" }).click();
    await widthIs(page, (now) => now === whole);

    // While an answer is under way the old drawing is scaled; the latest answer wins.
    let release = () => {};
    const held = new Promise((done) => {
      release = done;
    });
    await page.route("**/api/strip?*", async (route) => {
      await held;
      await route.fallback().catch(() => {});
    });
    await page.getByRole("button", { name: "longer", exact: true }).click();
    await until("the old drawing is scaled", () =>
      page.locator(".strip-scaled").first().evaluate((one) => /scaleX\(1\.[45]/.test(one.style.transform)),
    );
    await page.getByRole("button", { name: "longer", exact: true }).click();
    release();
    await widthIs(page, (now) => Math.abs(now - 2.25 * whole) < 3);
    assert.equal(await page.locator(".strip-scaled").first().evaluate((one) => one.style.transform), "");
    assert.deepEqual(faults, []);
    await context.close();
  } finally {
    await boat.stop();
  }
});

test("two fingers apart stretch the strip", async () => {
  const boat = await start();
  try {
    const { page, context } = await sheet(browser, { viewport: PHONE, hasTouch: true, isMobile: true, url: boat.url });
    await page.getByRole("button", { name: "Pictures" }).tap();
    await page.locator(".strip-box > .strip-paper svg.drawing").waitFor();
    const whole = await wide(page);
    const box = await page.locator(".strip-box").boundingBox();
    const hand = await context.newCDPSession(page);
    const y = box.y + 120;
    const touch = (type, apart) =>
      hand.send("Input.dispatchTouchEvent", {
        type,
        touchPoints: apart === null ? [] : [-1, 1].map((side, id) => ({ x: 195 + side * apart, y, id })),
      });
    await touch("touchStart", 30);
    for (const apart of [50, 80, 120, 170]) {
      await touch("touchMove", apart);
    }
    await touch("touchEnd", null);
    await widthIs(page, (now) => now > whole);
    await context.close();
  } finally {
    await boat.stop();
  }
});

test("heel and trim by steps: what goes under is said as the program says it, and marked", async () => {
  const boat = await start();
  try {
    const { page, context, faults } = await sheet(browser, { url: boat.url });
    assert.equal(await said(page), "");
    const port = page.getByRole("button", { name: "heel, more port" });
    // A press that is held goes on by itself.
    await port.hover();
    await page.mouse.down();
    const heel = page.locator(".stepper.heel");
    await until("10° to port", async () => Number(/(\d+)°/.exec(await heel.getAttribute("aria-label"))[1]) >= 10);
    await page.mouse.up();
    const degrees = /(\d+)°/.exec(await heel.getAttribute("aria-label"))[1];
    await until("it is said", async () => (await said(page)).includes(`at ${degrees}° to port`));
    const told = await page.evaluate(async (asked) => {
      const answer = await fetch(`/api/strip?arrangement=after&width=1296&form=half&heel=-${asked}`);
      return (await answer.json()).tilts[0];
    }, degrees);
    assert.ok((await said(page)).startsWith(told.says), `${await said(page)} / ${told.says}`);
    const seen = await page.locator(".strip-box > .strip-paper .hit").evaluateAll((all) => all.map((one) => one.dataset.mark));
    const marked = await page.locator(".strip-box > .strip-paper .hit.wet").evaluateAll((all) => all.map((one) => one.dataset.mark));
    const under = await page.evaluate(async (keys) => {
      const answer = await (await fetch("/api/page")).json();
      return answer.marks.filter((mark) => keys.includes(mark.key)).map((mark) => mark.mark);
    }, told.under);
    assert.deepEqual(marked.sort(), under.filter((mark) => seen.includes(mark)).sort());
    await page.getByRole("button", { name: /^heel \d+° port/ }).click();
    await until("upright again", async () => (await said(page)) === "");
    await page.getByRole("button", { name: "trim, more by the head" }).click();
    assert.equal(await page.locator(".stepper.trim").getAttribute("aria-label"), "trim: 0.5° by the head");
    assert.deepEqual(faults, []);
    await context.close();
  } finally {
    await boat.stop();
  }
});

test("what was before lies behind, and a branch is unrolled under the loop with its heights", async () => {
  const boat = await start();
  try {
    const { page, context, faults } = await sheet(browser, { url: boat.url });
    const behind = page.locator(".strip-box > .strip-paper svg.drawing .before");
    assert.equal(await behind.count(), 0);
    await page.getByRole("button", { name: "compare with before" }).click();
    await behind.first().waitFor({ state: "attached" });
    await page.getByRole("group", { name: "Arrangement" }).getByRole("button", { name: "before" }).click();
    await until("nothing lies behind itself", async () => (await behind.count()) === 0);
    assert.equal(await page.getByRole("button", { name: "compare with before" }).count(), 0);
    await page.getByRole("group", { name: "Arrangement" }).getByRole("button", { name: "after" }).click();
    await behind.first().waitFor({ state: "attached" });

    const flag = page.locator(".strip-bar [aria-expanded]", { hasText: "calorifier" });
    await flag.click();
    const under = page.getByRole("region", { name: /^Branch .*calorifier/ });
    await under.locator("svg.drawing").waitFor();
    const still = (svg) => svg.locator(".waterline").first().evaluate((line) => Number(/^M[\d.]+ ([\d.]+)/.exec(line.getAttribute("d"))[1]));
    const [main, own] = [await still(page.locator(".strip-box > .strip-paper svg.drawing")), await still(under.locator("svg.drawing"))];
    assert.ok(Math.abs(main - own) < 0.1, `the waterline stands at ${main} and ${own} px`);
    await shot(page, "branch");
    const first = under.locator(".hit").first();
    const mark = await first.getAttribute("data-mark");
    await first.click();
    assert.equal(await under.locator(`[data-mark="${mark}"]`).getAttribute("aria-pressed"), "true");
    const column = await page.locator(".column").boundingBox();
    assert.ok(column.height > 200, `the verdicts keep room to be read: ${column.height} px`);
    await under.getByRole("button", { name: "lay this one out" }).click();
    await page.getByRole("button", { name: "main loop again" }).click();
    await flag.click();
    await under.getByRole("button", { name: "roll up" }).click();
    await under.waitFor({ state: "detached" });
    assert.deepEqual(faults, []);
    await context.close();
  } finally {
    await boat.stop();
  }
});

test("a new boat by six asks: drawn dashed at once, and her first box is open", async () => {
  const boat = await start([], null);
  try {
    const { page, context, faults } = await sheet(browser, { url: boat.url });
    await page.getByRole("textbox", { name: /What is she called/ }).fill("Otter");
    for (const choice of ["pipes at the keel", "a calorifier", "a fitting with a valve at each opening", "apart, on a bulkhead"]) {
      await page.getByText(choice, { exact: true }).click();
    }
    await page.getByRole("textbox", { name: /What does the engine give/ }).fill("46 kW @ 2600 rpm plate");
    await page.getByRole("button", { name: "Begin this boat" }).click();
    await page.locator(".slip input").first().waitFor();
    assert.equal(await page.locator(".edge [aria-current]").getAttribute("data-chapter"), "survey");
    assert.equal(await page.locator(".chapter-survey .slip").count(), 1);
    assert.equal(await page.evaluate(() => document.activeElement.closest(".slip") !== null), true, "the pencil is in the box");
    await page.locator(".strip-box svg.drawing .loop-assumed").first().waitFor({ state: "attached" });
    const file = readFileSync(join(boat.folder, "otter", "boat.toml"), "utf8");
    assert.match(file, /power = "46 kW @ 2600 rpm plate"/);
    assert.match(file, /^assume = \["engine inside"\]/m);
    await shot(page, "new-boat");
    assert.deepEqual(faults, []);
    await context.close();
  } finally {
    await boat.stop();
  }
});

test("another boat is found from the title block, and the six asks end in her", async () => {
  const boat = await start();
  try {
    const { page, context, faults } = await sheet(browser, { url: `${boat.url}#/fit` });
    await page.locator(".title-block").getByRole("button", { name: "another boat" }).click();
    const fold = page.locator("details.another");
    await fold.getByRole("textbox", { name: /What is she called/ }).fill("Sedge Warbler");
    const summary = await fold.locator("summary").boundingBox();
    assert.ok(summary && summary.y > 0 && summary.y < 700, `the fold is on view: ${JSON.stringify(summary)}`);
    assert.equal(await fold.locator(".ask").count(), 6);
    await shot(page, "another-boat");
    // All but the name may stay unanswered.
    await fold.getByRole("button", { name: "Begin this boat" }).click();
    await page.waitForFunction(() => document.title.startsWith("Sedge Warbler"));
    assert.match(await words(page.locator(".title-block .boat")), /Sedge Warbler/);
    assert.equal(await page.locator(".edge [aria-current]").getAttribute("data-chapter"), "survey");
    assert.match(readFileSync(join(boat.folder, "sedge-warbler", "boat.toml"), "utf8"), /name = "Sedge Warbler"/);
    assert.deepEqual(faults, []);
    await context.close();
  } finally {
    await boat.stop();
  }
});

test("nothing moves by itself for who wants no motion", async () => {
  const boat = await start();
  try {
    const { page, context } = await sheet(browser, { url: boat.url, reducedMotion: "reduce" });
    const moving = () =>
      page.evaluate(() =>
        [...document.querySelectorAll("*")]
          .filter((one) => {
            const { animationName, transitionDuration, scrollBehavior } = getComputedStyle(one);
            return animationName !== "none" || !/^0s(, 0s)*$/.test(transitionDuration) || scrollBehavior === "smooth";
          })
          .map((one) => one.className),
      );
    assert.deepEqual(await moving(), []);
    await page.locator('[data-act="next"]').click();
    await page.locator('[data-act="remedy"]').click();
    await page.locator('.card[aria-label="B1 sound"]').waitFor();
    assert.deepEqual(await moving(), []);
    await context.close();
  } finally {
    await boat.stop();
  }
});

for (const light of ["day", "night"]) {
  test(`the focus is seen on everything that takes it: ${light}`, async () => {
    const boat = await start();
    try {
      const { page, context } = await sheet(browser, { viewport: DESK, url: boat.url });
      await page.evaluate((on) => localStorage.setItem("hosewright.night", on), light === "night" ? "yes" : "no");
      await page.reload();
      await page.locator(".strip svg.drawing").waitFor();
      const faults = [];
      for (const key of ["boat", "survey", "fit", "flow", "order", "fill", "home"]) {
        await page.locator(`.edge [data-chapter="${key}"]`).click();
        await page.waitForFunction(() => !/\bcoming\b|is being fetched/.test(document.body.innerText), null, { timeout: 20_000 });
        faults.push(...(await page.evaluate(unseenFocus)).map((one) => `${key}: ${one}`));
      }
      assert.deepEqual(faults, []);
      await context.close();
    } finally {
      await boat.stop();
    }
  });
}

/** In the page: what takes the focus and shows no line, or has most of the line cut off by what it lies in. */
function unseenFocus() {
  const out = [];
  for (const one of document.querySelectorAll("button, input, a[href], select, textarea, summary, [tabindex]")) {
    if (one.disabled || one.tabIndex < 0 || one.getClientRects().length === 0) {
      continue;
    }
    one.focus({ focusVisible: true });
    if (document.activeElement !== one) {
      continue;
    }
    one.scrollIntoView({ block: "nearest", inline: "nearest" });
    // A radio has its line round its words.
    const drawn = getComputedStyle(one).outlineStyle === "solid" ? one : one.closest("label") ?? one;
    const { outlineStyle, outlineWidth, outlineOffset } = getComputedStyle(drawn);
    const name = one.outerHTML.slice(0, 80);
    if (outlineStyle !== "solid" || parseFloat(outlineWidth) < 2) {
      out.push(`no line: ${name}`);
      continue;
    }
    const far = Math.max(0, parseFloat(outlineWidth) + parseFloat(outlineOffset));
    const own = drawn.getBoundingClientRect();
    for (let over = drawn.parentElement; over && over !== document.body; over = over.parentElement) {
      const { overflowX, overflowY } = getComputedStyle(over);
      const room = over.getBoundingClientRect();
      const cut = [
        overflowX !== "visible" && own.left - far < room.left - 1,
        overflowX !== "visible" && own.right + far > room.right + 1,
        overflowY !== "visible" && own.top - far < room.top - 1,
        overflowY !== "visible" && own.bottom + far > room.bottom + 1,
      ].filter(Boolean);
      if (cut.length > 1) {
        out.push(`${cut.length} sides cut off by .${over.className}: ${name}`);
        break;
      }
    }
  }
  return out;
}

/** The phone in the bilge: three ends through a cut link and a killed tab; and the size of its keys. */
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { PHONE, hand, launch, listen, open, sheet, shot, start, until, words } from "./sheet.mjs";

let browser;
before(async () => {
  browser = await launch();
});
after(() => browser.close());

const FINGER = { hasTouch: true, isMobile: true };
const GAP = "gap 1 5/8, between whole inches and fraction";
const DIGITS = ["nought", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"];
/** A key by its name; digits by their words. */
const key = (page, name) => page.getByRole("button", { name: DIGITS.includes(name) ? String(DIGITS.indexOf(name)) : name, exact: true });

/** Goes to an end by what is written on the hose. */
async function toEnd(page, name) {
  await page.locator(".pad-head button").first().click();
  await page.getByRole("dialog", { name: "Ends" }).getByRole("button", { name }).first().click();
}

/** Presses keys of the pad by their spoken names, and keeps. */
async function measure(page, keys) {
  const me = hand(page);
  for (const name of keys) {
    await me.press(key(page, name), name);
  }
  await me.press(page.getByRole("button", { name: /^keep/ }), "keep");
  return me.acts;
}

async function waiting(page, count) {
  await page.locator(".pad-head button", { hasText: `${count} waiting` }).waitFor({ timeout: 10_000 });
}

test("three ends, the link cut after the first, the tab killed after the second: three of three in the file", async (t) => {
  const boat = await start();
  try {
    const address = `${boat.url}#/survey`;
    const { page, context, faults } = await sheet(browser, { viewport: PHONE, ...FINGER, url: address });
    const before = boat.text();
    await toEnd(page, /^C4 /);
    await page.locator(".pad-question").waitFor();
    const acts = [];

    acts.push(await measure(page, ["three", "eight", "point", "one"]));
    await until("the first is in the file", () => boat.text() !== before);
    await waiting(page, 0);

    await context.setOffline(true);
    // The second in inches and a fraction.
    const second = ["inch", "one", GAP, "five", "stroke of a fraction", "eight"];
    acts.push(await measure(page, second));
    await waiting(page, 1);
    await page.getByText("leave this page open").waitFor({ timeout: 15_000 });
    await shot(page, "phone-cut");
    await page.close({ runBeforeUnload: false });

    await context.setOffline(false);
    const again = await context.newPage();
    faults.push(...listen(again));
    const back = performance.now();
    await open(again, address);
    await again.locator(".pad-question").waitFor();
    await waiting(again, 0);
    t.diagnostic(`what waited was in the file ${(performance.now() - back).toFixed(0)} ms after the page was opened again (bar: 5000 ms)`);
    // The unit that was pressed last is pressed still, and seen to be.
    assert.equal(await key(again, "inch").getAttribute("aria-pressed"), "true");
    assert.equal(await key(again, "mm, millimetres").getAttribute("aria-pressed"), "false");
    acts.push(await measure(again, ["mm, millimetres", "three", "two"]));
    await waiting(again, 0);
    await until("the third is in the file", () => boat.text().includes('behind_bead = "32 mm"'));
    const own = boat.text().split("\n").filter((line) => !before.includes(line)).join("\n");
    t.diagnostic(`acts a value, a change of unit among them: ${acts.join(", ")} (bar: 8); in the file: ${own}`);
    for (const [at, count] of acts.entries()) {
      assert.ok(count <= 8, `value ${at + 1} took ${count} acts`);
    }
    for (const reading of [/\bod = "?38\.1/, /bead = "1[ -]5\/8 in"/, /behind_bead = "?32/]) {
      assert.match(own, reading);
    }
    assert.equal(own.match(/\bbead = /g).length, 1, "nothing stands there twice");
    await shot(again, "phone-three");
    assert.deepEqual(faults, []);
    await context.close();
  } finally {
    await boat.stop();
  }
});

test("a value that can hardly be is asked back; a fraction in millimetres is refused; what is filled is passed over", async () => {
  const boat = await start();
  try {
    const { page, context, faults } = await sheet(browser, { viewport: PHONE, ...FINGER, url: `${boat.url}#/survey` });
    // It opens where the most is settled, at an open box.
    await page.locator(".pad-question").waitFor();
    assert.doesNotMatch(await words(page.locator(".pad-remark")), /in the file/);
    const before = boat.text();
    await toEnd(page, /^C4 /);
    for (const name of ["one", "four", "two", "nought"]) {
      await key(page, name).click();
    }
    await page.getByRole("button", { name: /^keep/ }).click();
    const asked = page.getByRole("dialog", { name: "Asked back" });
    await asked.waitFor();
    assert.match(await words(asked), /1420 mm is 29 times what the hose over it measured \(49\.4 mm\): keep it, or type it anew\?/);
    await shot(page, "pad-asked-back");
    await key(page, "Type anew").click();
    assert.equal(boat.text(), before, "nothing was kept");
    assert.equal(await page.locator(".pad-value").getAttribute("aria-label"), "nothing written");

    // 17/16 in millimetres stands there and is refused; in inches it says how 1 1/16 is pressed.
    for (const name of ["one", "seven", "stroke of a fraction", "one", "six"]) {
      await key(page, name).click();
    }
    assert.match(await words(page.locator(".pad-remark")), /Only inches have fractions/);
    assert.equal(await page.getByRole("button", { name: /^keep/ }).getAttribute("aria-disabled"), "true");
    await key(page, "inch").click();
    assert.match(await words(page.locator(".pad-remark")), /17\/16 is 1 or more/);
    for (let left = 0; left < 5; left += 1) {
      await key(page, "rub out").click();
    }
    assert.match(await words(page.locator(".pad-remark")), /1 5\/8 is: 1, gap, 5, \/, 8\./);
    assert.equal(await page.locator(".pad-line > .soft").innerText(), "± 0.004 in by caliper");
    await shot(page, "pad-inch");
    for (const name of ["one", GAP, "one", "stroke of a fraction", "one", "six"]) {
      await key(page, name).click();
    }
    assert.equal(await page.locator(".pad-value").getAttribute("aria-label"), "1 1/16 inches");
    await shot(page, "pad-inch-written");
    await page.getByRole("button", { name: /^keep/ }).click();
    await until("1 1/16 in is in the file", () => /od = "1[ -]1\/16 in"/.test(boat.text()));

    // Going on stops at no box that is filled.
    const seen = new Set();
    for (let step = 0; step < 12; step += 1) {
      await key(page, "next value").click();
      await page.waitForTimeout(50);
      const remark = await words(page.locator(".pad-remark"));
      assert.doesNotMatch(remark, /in the file/, `${await words(page.locator(".pad-question"))}: ${remark}`);
      seen.add(`${await words(page.locator(".pad-head"))} ${await words(page.locator(".pad-question"))}`);
    }
    assert.ok(seen.size > 6, "it goes on");

    // At the desk the step is told by how it was entered.
    const back = await page.evaluate(async () => (await (await fetch("/api/page")).json()).history.back);
    assert.match(back, /, phone layout, \d\d:\d\d$/);
    assert.deepEqual(faults, []);
    await context.close();
  } finally {
    await boat.stop();
  }
});

test("Get home: every sign is on view, on a desk and in the hand, and none is followed by a bare power", async () => {
  const boat = await start();
  try {
    for (const [viewport, more] of [[{ width: 1440, height: 900 }, {}], [PHONE, FINGER]]) {
      const { page, context } = await sheet(browser, { viewport, ...more, url: `${boat.url}#/home` });
      await page.locator(".home-signs .key").first().waitFor();
      await page.waitForTimeout(300);
      const name = `home-${viewport.width}`;
      await shot(page, name);
      const body = await page.locator(".home-body").boundingBox();
      const signs = await page.locator(".home-signs .key").all();
      assert.ok(signs.length >= 8, `${signs.length} signs`);
      for (const sign of signs) {
        const box = await sign.boundingBox();
        const what = `${viewport.width}: ${await words(sign)} ${JSON.stringify(box)} in ${JSON.stringify(body)}`;
        assert.ok(box.y >= body.y - 0.5 && box.y + box.height <= body.y + body.height + 0.5, what);
        // Nothing lies over it.
        assert.ok(await sign.evaluate((own, { x, y }) => own.contains(document.elementFromPoint(x, y)), { x: box.x + box.width / 2, y: box.y + box.height - 4 }), what);
      }
      const text = await words(page.locator(".get-home"));
      for (const caution of [/Caution Do not open the cap\./, /Never: a cap or hose off/, /The boat first:/]) {
        assert.match(text, caution);
      }
      assert.equal(await page.getByRole("button", { name: "other sign" }).count(), 0, "what can't be pressed is not there");
      await page.getByRole("button", { name: "Needle climbing" }).click();
      const limits = await words(page.locator(".home-limits"));
      assert.match(limits, /Now: throttle back to idle and watch the needle\. Only while everything is sound.* 46 kW/s);
      await page.getByRole("button", { name: "other sign" }).waitFor();
      await shot(page, `${name}-climbing`);
      await page.getByRole("button", { name: "other sign" }).click();
      await page.getByRole("button", { name: "Steam" }).click();
      assert.doesNotMatch(await words(page.locator(".home-limits")), /kW/);
      await context.close();
    }
  } finally {
    await boat.stop();
  }
});

test("an entry that comes twice is kept once", async () => {
  const boat = await start();
  try {
    const { page, context } = await sheet(browser, { viewport: PHONE, ...FINGER, url: `${boat.url}#/survey` });
    const send = () =>
      page.evaluate(async () => {
        const entry = { id: "0123456789abcdef0123456789abcdef", place: "engine.spigots.in.od", text: "38.1 mm", instrument: "caliper", note: null, at: "2026-05-01T10:00:00Z", saw: null };
        const answer = await fetch("/api/entries", {
          method: "POST",
          headers: { "content-type": "application/json", "x-hosewright-key": document.querySelector('meta[name="hosewright-key"]').content },
          body: JSON.stringify({ entries: [entry] }),
        });
        return answer.json();
      });
    assert.equal((await send()).outcomes[0].kept, true);
    const once = boat.text();
    assert.equal((await send()).outcomes[0].kept, true);
    assert.equal(boat.text(), once);
    await context.close();
  } finally {
    await boat.stop();
  }
});

test("keys of the pad: 91 px and more, 4 px apart, none off view on a short screen", async (t) => {
  const boat = await start();
  try {
    const { page, context } = await sheet(browser, { viewport: PHONE, ...FINGER, url: `${boat.url}#/survey` });
    for (const height of [844, 664]) {
      await page.setViewportSize({ width: 390, height });
      for (const end of [/^C4 /, /^A4 /, /^run hot|^A /]) {
        await toEnd(page, end);
        await page.locator(".survey-pad .key").first().waitFor();
        await page.waitForTimeout(200);
        const keys = await page.locator(".survey-pad .key").evaluateAll((all) =>
          all.map((one) => {
            const { left, top, right, bottom } = one.getBoundingClientRect();
            return { name: one.getAttribute("aria-label") ?? one.innerText, left, top, right, bottom };
          }),
        );
        assert.ok(keys.length >= 10, `${keys.length} keys`);
        const least = Math.min(...keys.map((one) => Math.min(one.right - one.left, one.bottom - one.top)));
        assert.ok(least >= 91 - 0.01, `a key of ${least} px at 390×${height}: ${JSON.stringify(keys.filter((one) => Math.min(one.right - one.left, one.bottom - one.top) < 91))}`);
        let apart = Infinity;
        for (const [at, one] of keys.entries()) {
          assert.ok(one.left >= 0 && one.right <= 390 && one.top >= 0 && one.bottom <= height, `${one.name} is off view at 390×${height}: ${JSON.stringify(one)}`);
          for (const other of keys.slice(at + 1)) {
            const x = Math.max(other.left - one.right, one.left - other.right);
            const y = Math.max(other.top - one.bottom, one.top - other.bottom);
            apart = Math.min(apart, Math.max(x, y));
          }
        }
        assert.ok(apart >= 4 - 0.01, `keys ${apart} px apart at 390×${height}`);
        t.diagnostic(`390×${height}, ${end}: least key ${least} px, least gap ${apart.toFixed(1)} px`);
      }
      await shot(page, `pad-${height}`);
    }
    const wide = await page.evaluate(() => document.documentElement.scrollWidth);
    assert.ok(wide <= 390, `${wide} px wide`);
    await context.close();
  } finally {
    await boat.stop();
  }
});

test("Get home in red light: the card with its cautions, in a thumb's reach", async (t) => {
  const boat = await start();
  try {
    const { page, context } = await sheet(browser, { viewport: PHONE, ...FINGER, url: `${boat.url}#/home` });
    await page.evaluate(() => localStorage.setItem("hosewright.night", "yes"));
    await page.reload();
    await page.locator(".hand.own").waitFor();
    await page.waitForTimeout(500);
    const text = await words(page.locator(".hand.own"));
    t.diagnostic(`first lines: ${text.split("\n").filter((line) => line.trim()).slice(0, 4).join(" | ")}`);
    assert.match(text, /Caution Do not open the cap\./);
    assert.match(text, /Steam, belt gone or hose burst: stop\./);
    assert.match(text, /Exhaust\s+dry/);
    assert.doesNotMatch(text, /exhaust[^.\n]*water|water[^.\n]*exhaust/i, "she has a dry exhaust, and no word of its water");
    await shot(page, "home-night");
    await context.close();
  } finally {
    await boat.stop();
  }
});

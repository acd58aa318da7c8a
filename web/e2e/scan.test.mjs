/** A scan is chosen, pressed, laid in by pins of the boat and kept under their names. */
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { chromium } from "playwright-core";
import { sheet, shot, start } from "./sheet.mjs";

const SOFTLY = ["--no-sandbox", "--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"];
/** The pins of the boat, as a scan in millimetres has them: a body with a corner at each. */
const PINS = { P1: [0, 0, 118], P2: [1239, 0, 131], P3: [1204, -741, 96], P4: [33, -719, 402] };
const SCAN = `${Object.values(PINS)
  .map((at) => `v ${at.join(" ")}`)
  .join("\n")}\nf 1 3 2\nf 1 2 4\nf 2 3 4\nf 1 4 3\n`;

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

test("a scan is laid in by pins, typed and pressed", async () => {
  const { page, faults, context } = await sheet(browser, { url: boat.url });
  await page.evaluate(() => {
    history.pushState(null, "", "#/route");
    dispatchEvent(new PopStateEvent("popstate"));
  });
  const part = page.locator(".bay-scan");
  const choose = (name) => part.locator("input[type=file]").setInputFiles({ name, mimeType: "model/obj", buffer: Buffer.from(SCAN) });
  await choose("scan (1).obj");
  await part.getByText("say which, or give one length").waitFor();
  // Left and chosen again, it is there again.
  await part.getByText("Leave it").click();
  await choose("scan (1).obj");
  await part.getByLabel("millimetres").check();
  for (const name of ["P1", "P2", "P3"]) {
    await part.getByLabel(`${name} in the scan: x, y, z`).fill(PINS[name].join(", "));
  }
  await part.getByRole("button", { name: "show it in the scan: P4" }).click();
  const picture = part.locator(".scan-preview");
  await picture.scrollIntoViewIfNeeded();
  const { width, height } = await picture.boundingBox();
  await picture.click({ position: { x: 4, y: 4 } });
  await part.getByText("Nothing of the scan is there").waitFor();
  await picture.click({ position: { x: width / 2, y: height / 2 } });
  await page.waitForFunction(() => document.querySelector("[aria-label='P4 in the scan: x, y, z']").value !== "");
  await part.getByLabel("P4 in the scan: x, y, z").fill(PINS.P4.join(", "));
  await part.getByRole("button", { name: "Lay it on these points" }).click();
  await part.getByText("By its 4 points it lies").waitFor();
  await shot(page, "scan");
  await part.getByRole("button", { name: "Keep the scan" }).click();
  await part.locator(".scan-lay").waitFor({ state: "detached" });
  assert.match(boat.text(), /file = "scan \(1\)\.obj"[^[]*points = .*is = "P1".*is = "P4"/);
  assert.deepEqual(faults, []);
  await context.close();
});

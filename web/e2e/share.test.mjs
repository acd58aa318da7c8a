/** Who may ask: foreign hosts and origins are refused, and the key of a share is told to nobody. */
import assert from "node:assert/strict";
import { request } from "node:http";
import { networkInterfaces } from "node:os";
import { after, before, test } from "node:test";
import { readCode } from "./code.mjs";
import { PHONE, launch, listen, shot, start, words } from "./sheet.mjs";

let browser;
before(async () => {
  browser = await launch();
});
after(() => browser.close());

/** One call with headers of one's own, which `fetch` would not send. */
function call(url, { method = "GET", headers = {}, body } = {}) {
  return new Promise((resolve, reject) => {
    const own = request(url, { method, headers }, (answer) => {
      let text = "";
      answer.setEncoding("utf8");
      answer.on("data", (part) => (text += part));
      answer.on("end", () => resolve({ status: answer.statusCode, headers: answer.headers, text }));
    });
    own.on("error", reject);
    own.end(body);
  });
}

test("foreign hosts and origins are refused, and writes without the run's key", async () => {
  const boat = await start();
  try {
    const page = `${boat.url}api/page`;
    const own = `127.0.0.1:${boat.port}`;
    assert.equal((await call(page)).status, 200);
    for (const headers of [
      { host: "boat.example" },
      { host: `boat.example:${boat.port}` },
      { host: "127.0.0.1:1" },
      { host: own, origin: "http://boat.example" },
      { host: own, origin: "null" },
      { host: own, origin: `https://${own}` },
      { host: own, "sec-fetch-site": "cross-site" },
    ]) {
      const answer = await call(page, { headers });
      assert.equal(answer.status, 403, JSON.stringify(headers));
      assert.doesNotMatch(answer.text, /Dunlin/);
      assert.equal(answer.headers["access-control-allow-origin"], undefined);
    }
    const before = boat.text();
    const body = JSON.stringify({ number: 0, label: "x", edits: [{ place: 'joints."cold.from".clips', to: "1" }] });
    for (const more of [{}, { "x-hosewright-key": "0".repeat(32) }, { "x-hosewright-key": "" }]) {
      const answer = await call(`${boat.url}api/edits`, { method: "POST", headers: { "content-type": "application/json", ...more }, body });
      assert.equal(answer.status, 403);
    }
    assert.equal(boat.text(), before);
    const policy = (await call(boat.url)).headers["content-security-policy"];
    assert.match(policy, /default-src 'none'/);
    assert.doesNotMatch(policy, /unsafe|\*/);
  } finally {
    await boat.stop();
  }
});

test("the page asks nothing of another machine", async () => {
  const boat = await start();
  try {
    const context = await browser.newContext();
    const page = await context.newPage();
    const faults = listen(page);
    const asked = [];
    page.on("request", (one) => asked.push(one.url()));
    await page.goto(boat.url);
    await page.locator(".strip svg.drawing").waitFor();
    await page.waitForTimeout(300);
    const foreign = asked.filter((url) => !url.startsWith(boat.url) && !/^(data|blob):/.test(url));
    assert.deepEqual(foreign, []);
    assert.deepEqual(faults, [], "nor does it break its own policy");
    await context.close();
  } finally {
    await boat.stop();
  }
});

const network = Object.values(networkInterfaces())
  .flat()
  .some((one) => one.family === "IPv4" && !one.internal);

test("a phone comes in by the code alone; its key is in no address and in no log", { skip: network ? false : "this machine is on no network to share on" }, async () => {
  const boat = await start(["--share", "--verbose"]);
  try {
    const share = JSON.parse((await call(`${boat.url}api/share`)).text);
    assert.equal(share.on, true);
    const scanned = readCode(share.qr);
    const [address, key] = scanned.split("/#k=");
    assert.equal(address, share.address);
    assert.match(key, /^[0-9a-f]{32,}$/);

    // Over the network nothing is told without the key.
    assert.equal((await call(`${address}/api/page`)).status, 403);
    assert.equal((await call(`${address}/api/page?k=${key}`)).status, 403, "a key in the query opens nothing");
    assert.equal((await call(`${address}/api/page`, { headers: { "x-hosewright-key": "f".repeat(key.length) } })).status, 403);
    assert.equal((await call(`${address}/api/page`, { headers: { "x-hosewright-key": key } })).status, 200);
    const document = await call(`${address}/`);
    assert.doesNotMatch(document.text, /Dunlin|hosewright-key" content/);

    const context = await browser.newContext({ viewport: PHONE, hasTouch: true, isMobile: true });
    const page = await context.newPage();
    const faults = listen(page);
    const asked = [];
    page.on("request", (one) => asked.push(`${one.url()} ${one.headers().referer ?? ""}`));
    await page.goto(scanned);
    await page.locator(".hand-head").waitFor();
    await page.locator(".next, .column").first().waitFor();
    assert.match(await words(page.locator(".hand")), /B1/);
    assert.equal(asked.filter((url) => url.includes(key)).join("\n").replaceAll(scanned, "").trim(), "", "no query holds the key");
    assert.ok(!page.url().includes(key), "the key leaves the address at once");
    await shot(page, "phone-shared");
    await page.reload();
    await page.locator(".hand-head").waitFor();
    await page.locator(".hand", { hasText: "B1" }).waitFor();
    assert.match(await words(page.locator(".hand")), /B1/, "the key is kept for this tab");
    assert.deepEqual(faults, []);

    // A new key shuts the old one out.
    const own = /name="hosewright-key" content="([0-9a-f]+)"/.exec((await call(boat.url)).text)[1];
    const made = await call(`${boat.url}api/share/key`, { method: "POST", headers: { "x-hosewright-key": own } });
    assert.ok(made.status < 300, `${made.status} ${made.text}`);
    assert.equal((await call(`${address}/api/page`, { headers: { "x-hosewright-key": key } })).status, 403);
    assert.ok(!boat.log().includes(key) && !boat.log().includes(own), "no log holds a key");
    await context.close();
  } finally {
    await boat.stop();
  }
});

test("a key of an earlier run is told so", { skip: network ? false : "this machine is on no network to share on" }, async () => {
  const boat = await start(["--share"]);
  try {
    const { address } = JSON.parse((await call(`${boat.url}api/share`)).text);
    const context = await browser.newContext({ viewport: PHONE, hasTouch: true, isMobile: true });
    const page = await context.newPage();
    await page.goto(`${address}/#k=${"0".repeat(32)}`);
    await page.getByText("This key is from an earlier run. Scan the code again.").first().waitFor({ timeout: 5000 });
    await shot(page, "phone-old-key");
    await context.close();
  } finally {
    await boat.stop();
  }
});

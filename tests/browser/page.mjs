// The HTML pages in a real browser: node page.mjs REPORT CHANGES HOSTILE LARGE [FOLDER FOR SCREENSHOTS]
// REPORT holds at least two rules and a finding with play, with its overview; CHANGES a diff of puzzles that changed, with
// both boards of at least one; HOSTILE and HOSTILE.changes.html are of a collection that tries to run scripts, LARGE holds
// ten thousand findings. Ends with "N passed, N failed".
import fs from "node:fs";
import { createRequire } from "node:module";
import { pathToFileURL } from "node:url";
import puppeteer from "puppeteer-core";

const [report, changes, hostile, large, shots] = process.argv.slice(2);
const axe = fs.readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
let passed = 0;
let failed = 0;
function check(holds, what) {
  holds ? ++passed : ++failed;
  if (!holds) console.log("FAILED: " + what);
}

const browser = await puppeteer.launch({
  executablePath: "/usr/bin/chromium", headless: true, args: ["--no-sandbox", "--disable-gpu"] });

async function open(file, { width = 1200, dark = false, script = true } = {}) {
  const page = await browser.newPage();
  page.problems = [];
  page.on("console", (message) => message.type() === "error" && page.problems.push(message.text()));
  page.on("pageerror", (error) => page.problems.push(String(error)));
  page.on("request", (request) => request.url().startsWith("file:") || page.problems.push(request.url()));
  page.on("dialog", (dialog) => { page.problems.push("dialog"); dialog.dismiss(); });
  await page.setViewport({ width, height: 900 });
  await page.emulateMediaFeatures([{ name: "prefers-color-scheme", value: dark ? "dark" : "light" }]);
  await page.setJavaScriptEnabled(script);
  await page.goto(pathToFileURL(file).href);
  return page;
}

const shown = (page) => page.$$eval(".finding", (all) => all.filter((one) => one.offsetParent !== null).length);

{ // as it comes
  const page = await open(report);
  check(page.problems.length === 0, "no error, no request: " + page.problems);
  const all = await page.$$eval(".finding", (list) => list.length);
  check(all > 1 && (await shown(page)) === all, "every finding is shown");
  const rules = await page.$$eval("select[name=rule] option", (list) => list.map((one) => one.value));
  check(rules.length > 2, "rules to choose from");
  await page.select("select[name=rule]", rules[1]);
  const some = await shown(page);
  check(some > 0 && some < all, "a filter leaves some out");
  check((await page.$eval("#told", (told) => told.textContent)) === `${some} of ${all} findings shown`, "and says so");
  await page.click("form button");
  check((await shown(page)) === all, "all again");

  const steps = await page.$(".steps");
  check(steps !== null, "there is play to step through");
  const before = await page.$eval(".finding:has(.steps) .men", (men) => men.innerHTML);
  const [back, on] = await steps.$$("button");
  await on.click();
  const after = await page.$eval(".finding:has(.steps) .men", (men) => men.innerHTML);
  check(before !== after, "a move is made");
  check((await steps.$eval("output", (at) => at.textContent)) !== "", "and named");
  await back.click();
  const again = await page.$eval(".finding:has(.steps) .men", (men) => men.children.length);
  check(again === before.split("<use").length - 1, "and taken back");
  check(await back.evaluate((button) => button.disabled), "no further than the diagram");
  await on.focus();
  await page.keyboard.press("Enter");
  check((await steps.$eval("output", (at) => at.textContent)) !== "", "by the keyboard too");
}

for (const [file, width, dark] of [report, changes].flatMap((one) =>
  [[one, 1200, false], [one, 1200, true], [one, 390, false], [one, 390, true]])) {
  const page = await open(file, { width, dark });
  const name = `${file === report ? "report" : "changes"}-${width}-${dark ? "dark" : "light"}`;
  const wide = await page.evaluate(() => document.documentElement.scrollWidth > document.documentElement.clientWidth);
  check(!wide, name + ": nothing is wider than the screen");
  await page.evaluate(axe);
  const result = await page.evaluate(() => axe.run());
  check(result.violations.length === 0,
    name + ": " + result.violations.map((one) => one.id + " " + one.nodes[0].html.slice(0, 100)).join("; "));
  if (!shots) continue;
  const height = await page.evaluate(() => document.documentElement.scrollHeight);
  await page.setViewport({ width, height: Math.min(height + 400, 3000) }); // what is not in view is not drawn
  await new Promise((drawn) => setTimeout(drawn, 600));
  await page.screenshot({ path: `${shots}/${name}.png` });
}

{ // what a change did
  const page = await open(changes);
  check(page.problems.length === 0, "changes: " + page.problems);
  check((await page.$$(".pair figure")).length > (await page.$$(".pair")).length, "some puzzle has both boards");
  check((await page.$$eval("svg.board", (boards) => boards.every((one) =>
    document.getElementById(one.getAttribute("aria-labelledby"))?.textContent.includes("to move")))), "boards in words");
}

{ // printed from a dark screen
  const page = await open(report, { dark: true });
  await page.emulateMediaType("print");
  const paper = await page.evaluate(() => getComputedStyle(document.body).backgroundColor);
  check(paper === "rgb(255, 255, 255)", "printed on white: " + paper);
  check((await page.$eval("form", (form) => getComputedStyle(form).display)) === "none", "filters are not printed");
}

{ // without a script
  const page = await open(report, { script: false });
  const text = await page.evaluate(() => document.body.innerText).catch(() => "");
  const tree = await page.accessibility.snapshot();
  check(text !== "" || JSON.stringify(tree).includes("rule"), "it can be read without its script");
  check(!JSON.stringify(tree).includes("Show all"), "without filters that do nothing");
}

for (const file of [hostile, hostile + ".changes.html"]) { // a stranger's collection
  const page = await open(file);
  check(page.problems.length === 0, "hostile: " + page.problems);
  check(await page.evaluate(() => window.touched === undefined), "no script of the collection has run");
  check((await page.$$eval("script", (list) => list.length)) === 1, "one script");
  check((await page.$$eval("iframe, img, object, a[href^=javascript]", (list) => list.length)) === 0, "no foreign elements");
}

{ // ten thousand findings
  const start = Date.now();
  const page = await open(large);
  await page.waitForSelector("form:not([hidden])");
  const time = Date.now() - start;
  console.log(`ten thousand findings: ${time} ms until the filters are there`);
  check((await page.$$eval(".finding", (list) => list.length)) >= 10000, "all of them are there");
}

await browser.close();
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 ? 0 : 1);

// Looks at the driver's page in a real browser. Called by ./run, which makes the pages first.
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import axe from "axe-core";
import { HtmlValidate } from "html-validate";
import puppeteer from "puppeteer-core";

const [chromium, folder, shots] = process.argv.slice(2);
const failures = [];
const check = (holds, said) => {
  console.log(`${holds ? "ok    " : "FAILED"} ${said}`);
  if (!holds) failures.push(said);
};
/** Least contrast and labels by WCAG 2.2, level AA. */
const AXE_TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
/** A page is to stay below a megabyte. */
const MOST_BYTES = 1_000_000;
/** A driver's card says the most with this many words, before what folds. */
const MOST_WORDS = 900;
/** Least text of a chart on a phone, px; a scaled width may lose a hundredth. */
const LEAST_TEXT_PX = 11.9;
/** Least type on paper: 8 pt, in px. */
const LEAST_PRINT_PX = 8 * 96 / 72 - 0.01;
/** Times read off the sliders' grid are good to three milliseconds, s. */
const GRID_ERROR_S = 0.003;
/** A card's aims are whole fifties: nobody holds a needle to less, rpm. */
const AIMS_TO_RPM = 50;

const profile = mkdtempSync(join(tmpdir(), "profile-"));
const browser = await puppeteer.launch({
  executablePath: chromium, headless: true, userDataDir: profile,
  args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync"],
});

const open = async (name, { width = 360, scheme = "light", script = true } = {}) => {
  const page = await browser.newPage();
  const said = [];
  page.on("console", (message) => said.push(message.text()));
  page.on("pageerror", (error) => said.push(error.message));
  page.on("request", (request) => {
    if (!request.url().startsWith("file:") && !request.url().startsWith("data:")) said.push(`fetches ${request.url()}`);
  });
  await page.setJavaScriptEnabled(script);
  await page.setViewport({ width, height: 800, deviceScaleFactor: 2 });
  await page.emulateMediaFeatures([{ name: "prefers-color-scheme", value: scheme }]);
  await page.goto(pathToFileURL(join(folder, name)).href);
  return { page, said };
};

const looks = [
  ["phone", { width: 360 }], ["wide", { width: 1100 }], ["dark", { width: 360, scheme: "dark" }],
  ["no script", { width: 360, script: false }],
];
const cards = ["card.html", "card-imperial.html", "edge_cases.html"];
const benches = ["compare.html", "window.html", "gearing.html", "cut.html", "edge_cases-compare.html"];
for (const name of [...cards, ...benches]) {
  check(statSync(join(folder, name)).size < MOST_BYTES, `${name} is under a megabyte (${statSync(join(folder, name)).size} bytes)`);
  for (const [look, options] of looks) {
    const { page, said } = await open(name, options);
    const width = await page.evaluate(() => document.documentElement.scrollWidth);
    check(width <= options.width, `${name}, ${look}: no sideways scroll (${width} px)`);
    const least = await page.$$eval(".chart svg text", (all) => Math.min(...all.filter((e) => e.checkVisibility()).map((e) => {
      const svg = e.closest("svg");
      return Number(e.getAttribute("font-size")) * svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
    })));
    check(least >= LEAST_TEXT_PX, `${name}, ${look}: charts' text is ${least.toFixed(1)} px or larger`);
    await page.screenshot({ path: join(shots, `${name}-${look}.png`), fullPage: true });
    if (options.script !== false) {
      await page.evaluate(axe.source);
      const { violations } = await page.evaluate((values) => axe.run({ runOnly: { type: "tag", values } }), AXE_TAGS);
      check(violations.length === 0, `${name}, ${look}: accessible ${violations.map((v) => `${v.id}: ${v.nodes[0].html.slice(0, 120)} ${v.nodes[0].failureSummary}`).join("; ")}`);
    }
    check(said.length === 0, `${name}, ${look}: console empty, nothing fetched ${said.join("; ")}`);
    await page.close();
  }
  if (benches.includes(name)) continue; // A page for the bench takes the paper it needs.
  const { page: folded } = await open(name);
  const words = await folded.evaluate(() => document.body.innerText.split(/\s+/).filter(Boolean).length);
  check(words <= MOST_WORDS, `${name}: ${words} words before what folds`);
  const links = await folded.$$eval("nav a", (all) => all.filter((a) => !document.querySelector(a.getAttribute("href"))).length);
  check(links === 0, `${name}: every jump link has a place to go`);
  await folded.click("nav a");
  check(await folded.$eval("details", (e) => e.open), `${name}: a jump link unfolds where it leads`);
  await folded.emulateMediaType("print");
  const type = await folded.evaluate(() => Math.min(...[...document.querySelectorAll("body *")]
    .filter((e) => e.checkVisibility() && !e.closest("svg") && [...e.childNodes].some((n) => n.nodeType === 3 && n.data.trim()))
    .map((e) => parseFloat(getComputedStyle(e).fontSize))));
  check(type >= LEAST_PRINT_PX, `${name}: no type on paper under 8 pt (${(type * 72 / 96).toFixed(1)})`);
  const grounds = await folded.evaluate(() => [...document.querySelectorAll("section")].map((e) => getComputedStyle(e).backgroundColor));
  check(grounds.every((ground) => ground === "rgb(255, 255, 255)"), `${name}: white behind every section on paper`);
  await folded.close();
  for (const format of ["A4", "Letter"]) {
    const { page } = await open(name);
    const pdf = join(shots, `${name}-${format}.pdf`);
    await page.pdf({ path: pdf, format, printBackground: true });
    const pages = Number(/Pages:\s+(\d+)/.exec(execFileSync("pdfinfo", [pdf], { encoding: "utf8" }))[1]);
    check(pages === 1, `${name}: one sheet of ${format} (${pages})`);
    execFileSync("pdftoppm", ["-r", "110", "-png", pdf, join(shots, `${name}-${format}`)]);
    await page.close();
  }
}

const validator = new HtmlValidate({
  extends: ["html-validate:standard"],
  // The page's style stands in the page by design; long lines are nobody's concern.
  rules: { "no-inline-style": "off", "long-title": "off", "no-trailing-whitespace": "off", "prefer-native-element": "off", "no-implicit-input-type": "off" },
});
for (const name of ["card.html", ...benches]) {
  const report = await validator.validateString(readFileSync(join(folder, name), "utf8"));
  const wrong = report.results.flatMap((result) => result.messages);
  check(wrong.length === 0, `${name} validates ${wrong.slice(0, 5).map((m) => `${m.line}:${m.column} ${m.ruleId} ${m.message}`).join("; ")}`);
}

// The sliders, held against launches of their own.
const { page } = await open("card.html");
await page.$$eval("details", (all) => all.forEach((e) => { e.open = true; }));
const launches = JSON.parse(readFileSync(join(folder, "launches.json"), "utf8"));
for (const { launch_rpm, grip, release, flywheel, sixty_foot_s } of launches) {
  await page.select("#play-wheel", await page.$$eval("#play-wheel option", (options, name) => options.find((o) => o.textContent === name).value, flywheel));
  const shown = await page.evaluate((rpm, g, r) => {
    const set = (id, value) => {
      const slider = document.getElementById(id);
      slider.value = value;
      slider.dispatchEvent(new Event("input", { bubbles: true }));
    };
    const data = JSON.parse(document.getElementById("play-data").textContent);
    const at = (axis, wanted) => axis.findIndex((v) => Math.abs(v - wanted) < 1e-9);
    set("play-grip", at(data.grips, g));
    set("play-release", at(data.releases, r));
    set("play-speed", rpm);
    return document.getElementById("play-time").textContent;
  }, launch_rpm, grip, release);
  const time = Number(/60 ft in ([\d.]+) s/.exec(shown)?.[1] ?? NaN);
  check(Math.abs(time - sixty_foot_s) <= GRID_ERROR_S + 0.0005, `slider: ${flywheel}, ${launch_rpm} rpm, grip ${grip}, release ${release}: ${shown}, launched ${sixty_foot_s.toFixed(4)} s`);
}
await page.click("#play-back");
await page.focus("#play-speed");
const before = await page.$eval("#play-time", (e) => e.textContent);
const line = await page.$eval("#draw-trace .main", (e) => e.getAttribute("d"));
// A thousand rpm away: the curve is flat about the aim, and the drawn launches stand a few hundred apart.
for (let press = 0; press < 100; press++) await page.keyboard.press("ArrowLeft");
check(await page.$eval("#play-time", (e) => e.textContent) !== before, "the arrow keys move the time");
check(await page.$eval("#draw-trace .main", (e) => e.getAttribute("d")) !== line, "the arrow keys move the engine's line");
const spoken = await page.$eval("#play-speed", (e) => e.getAttribute("aria-valuetext"));
check(/^\d+ rpm$/.test(spoken), `a slider says its value: ${spoken}`);
const before_steady = await page.$eval("#steady-says", (e) => e.textContent);
await page.focus("#steady");
for (let press = 0; press < 4; press++) await page.keyboard.press("ArrowRight");
check(await page.$eval("#steady-says", (e) => e.textContent) !== before_steady, "the arrow keys move what a less steady driver reads");
const visible = () => page.$$eval(".imperial", (all) => all.some((e) => e.checkVisibility()));
check(!(await visible()), "metric at first");
await page.click("#units-imperial");
check(await visible(), "imperial after the switch");

// Figures, held against compare --json.
const compared = JSON.parse(readFileSync(join(folder, "compare.json"), "utf8"));
const figures = await page.$$eval("[data-json]", (all) => all.map((e) => [e.dataset.json, (e.querySelector(".metric") ?? e).textContent]));
const off = figures.filter(([path, text]) => {
  const value = path.split(".").reduce((at, key) => at[key], compared);
  const digits = /\d+(?:\.(\d+))?/.exec(text.replace(/(\d),(?=\d{3})/g, "$1"));
  const shown_to = path.endsWith("aim.launch_rpm") ? AIMS_TO_RPM : 10 ** -(digits[1]?.length ?? 0);
  return Math.abs(Number(digits[0]) - value) > 0.5000001 * shown_to;
});
check(figures.length > 10 && off.length === 0, `${figures.length} figures equal compare --json ${off.join("; ")}`);

// Words from a sheet are shown, not run.
const edge_cases = await open("edge_cases.html");
check(await edge_cases.page.evaluate(() => document.title.includes("<script>") && !("ran" in window)), "a title of <script> is shown, not run");

await browser.close();
rmSync(profile, { recursive: true, force: true });
if (failures.length) {
  console.error(`${failures.length} failed`);
  process.exit(1);
}

// Run by .ci/vscode: looks at the broken demo in VS Code and takes pictures.
const path = require("node:path");
const { chromium } = require("playwright-core");

const [url, folder] = process.argv.slice(2);
const patience = 60_000; // in ms

async function main() {
  const browser = await chromium.launch({ executablePath: process.env.STINT_CHROMIUM, args: ["--no-sandbox"] });
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
  page.setDefaultTimeout(patience);
  const picture = (name) => page.screenshot({ path: path.join(folder, name + ".png") });
  try {
    await reach(page, url + "broken");
    const explorer = page.locator(".explorer-folders-view");
    await explorer.getByText("sessions", { exact: true }).click();
    await explorer.getByText("bowline.stint", { exact: true }).dblclick();
    const editor = page.locator(".editor-instance");
    const line = (text) => editor.locator(".view-line", { hasText: text }).first();

    await editor.locator(".squiggly-error").first().waitFor();
    await page.waitForTimeout(1500); // semantic tokens and hints come a little later
    await picture("squiggles");
    const squiggles = await editor.locator(".squiggly-error, .squiggly-warning, .squiggly-info").count();
    console.log(`${squiggles} squiggles`);

    await word(page, line("kettlebell"), "kettlebell");
    await page.keyboard.press("Control+K");
    await page.keyboard.press("Control+I");
    const hover = page.locator(".monaco-hover:visible").filter({ hasText: "kettlebell swing" });
    await hover.first().waitFor();
    console.log(`a hover of ${(await hover.first().innerText()).length} characters`);
    await page.waitForTimeout(300);
    await picture("hover");
    await page.keyboard.press("Escape");

    await word(page, line("ring row"), "ring");
    await page.keyboard.press("End");
    await page.keyboard.press("Enter");
    await page.keyboard.type("10 kettlebell s", { delay: 40 });
    const list = page.locator(".suggest-widget.visible .monaco-list-row");
    await list.first().waitFor();
    await page.waitForTimeout(500);
    const first = await list.first().innerText();
    console.log(`${await list.count()} completions in sight, the first ${first.replace("\n", ": ")}`);
    if (!first.startsWith("kettlebell swing")) throw new Error("the best completion is not the first");
    await picture("completion");
    await page.keyboard.press("Escape");
    for (let i = 0; i < 3; i++) await page.keyboard.press("Control+Z");

    await page.keyboard.press("Control+P");
    await page.keyboard.type("stopper.stint");
    await page.waitForTimeout(800);
    await page.keyboard.press("Enter");
    await editor.getByText("What the clock comes to").first().waitFor();
    await editor.locator(".view-line", { hasText: "part A" }).filter({ hasText: "over by" }).first().waitFor();
    await editor.locator("[class*='codelens-decoration']").first().waitFor();
    await page.waitForTimeout(500);
    // text that is shown in a line and is none of it has a class of its own
    const hints = await editor.locator(".view-line span[class*='dyn-rule']").allInnerTexts();
    const lenses = await editor.locator("[class*='codelens-decoration']").allInnerTexts();
    console.log(`${hints.length} hints, such as ${hints.find((h) => /over\sby/.test(h))}`);
    console.log(`${lenses.length} lenses, such as ${lenses[0]}`);
    await picture("hints");

    await page.keyboard.press("Control+Shift+M");
    await page.waitForTimeout(1500);
    await picture("problems");

    await page.goto(url + "without");
    await page.getByText("There is no program /nowhere/stint").first().waitFor();
    await picture("missing");
    if (squiggles === 0 || hints.length === 0 || lenses.length === 0) throw new Error("something is not shown");
  } catch (err) {
    await picture("failed");
    throw err;
  } finally {
    await browser.close();
  }
}

/** Opens the page as soon as there is a server. */
async function reach(page, url) {
  for (const until = Date.now() + patience; ; ) {
    try {
      await page.goto(url);
      return;
    } catch (err) {
      if (Date.now() > until) throw err;
      await new Promise((r) => setTimeout(r, 500));
    }
  }
}

/** Puts the cursor on a word of a line. */
async function word(page, line, text) {
  await line.getByText(text).first().click({ position: { x: 12, y: 8 } });
}

main().catch((err) => {
  console.error(err);
  process.exit(1);
});

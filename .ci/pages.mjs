// Opens each page that is named in Chromium, in both colour schemes and at two widths, and
// lists what breaks a rule of WCAG 2.1 A or AA, scrolls sideways, asks for anything
// beside itself, or cannot be reached by keyboard. Status 1 where there is anything.
import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { createRequire } from "node:module";
import { chromium } from "playwright-core";

const rules = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const levels = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa"];
const faults = [];

// broken lists the rules that the open page breaks, with the first place of each.
async function broken(page) {
	await page.evaluate(rules);
	const found = await page.evaluate((values) => globalThis.axe.run(document, { runOnly: { type: "tag", values } }), levels);
	return { passed: found.passes.length, list: found.violations.map((v) => `${v.id}: ${v.help} (${v.nodes.length}, first ${v.nodes[0].html.slice(0, 120)})`) };
}

// walk goes through the page by the Tab key: what has the focus, and whether it shows.
async function walk(page) {
	const seen = [];
	for (let i = 0; i < 200; i++) {
		await page.keyboard.press("Tab");
		const at = await page.evaluate(() => {
			const e = document.activeElement;
			if (!e || e === document.body) return null;
			const style = getComputedStyle(e), box = e.getBoundingClientRect();
			return { name: e.className || e.getAttribute("href"), ring: style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2, shown: box.right > 0 && box.bottom > 0 };
		});
		if (!at) break;
		seen.push(at);
	}
	return seen;
}

// ragged lists the tables that do not come out square when they are copied: a spreadsheet cuts
// at tabs and line ends.
const ragged = (page) => page.evaluate(() => [...document.querySelectorAll("table")].filter((table) => {
	const selection = getSelection();
	selection.selectAllChildren(table);
	const rows = selection.toString().replace(/\n$/, "").split("\n").slice(1); // the first is the caption
	selection.removeAllRanges();
	return rows.length !== table.rows.length || rows.some((r) => r.split("\t").length !== table.rows[0].cells.length);
}).map((table) => table.caption.textContent));

async function look(context, file, name, narrow) {
	const page = await context.newPage();
	const asked = [];
	page.on("request", (r) => asked.push(r.url()));
	page.on("console", (m) => faults.push(`${name}: the browser says ${m.text()}`));
	await page.goto(pathToFileURL(resolve(file)).href);
	const keys = await walk(page);
	const regions = await page.locator("[role=region]").count();
	const links = await page.locator("a").count();
	if (keys[0]?.name !== "skip") faults.push(`${name}: the first stop of the Tab key is ${JSON.stringify(keys[0])}, want the skip link`);
	if (keys.length !== regions + links) faults.push(`${name}: ${keys.length} stops of the Tab key for ${regions} regions and ${links} links`);
	for (const k of keys.filter((k) => !k.ring || !k.shown)) faults.push(`${name}: the focus on ${k.name} does not show`);
	const { passed, list } = await broken(page);
	if (passed < 10) faults.push(`${name}: only ${passed} rules had something to say`);
	faults.push(...list.map((f) => `${name}: ${f}`));
	const [wide, room] = await page.evaluate(() => [document.documentElement.scrollWidth, document.documentElement.clientWidth]);
	if (wide > room) faults.push(`${name}: the page is ${wide} px wide in a window of ${room}`);
	if (narrow && (await page.evaluate(() => [...document.querySelectorAll("[role=region]")].every((e) => e.scrollWidth <= e.clientWidth)))) {
		faults.push(`${name}: no region scrolls; then their place in the Tab order is idle`);
	}
	for (const caption of await ragged(page)) faults.push(`${name}: the table "${caption}" cannot be copied cell by cell`);
	if (asked.length !== 1) faults.push(`${name}: it asked for ${asked.join(" ")}`);
	await page.close();
	return passed;
}

// A page with known faults must be found out, or the rules did not run.
async function mustFail(context) {
	const page = await context.newPage();
	await page.setContent('<html><body><img src=""><p style="color:#aaa;background:#bbb">pale words on a pale ground</p></body></html>');
	const { list } = await broken(page);
	for (const id of ["image-alt", "color-contrast", "html-has-lang", "document-title"]) {
		if (!list.some((f) => f.startsWith(id + ":"))) faults.push(`the rule ${id} does not find a plain fault`);
	}
	await page.close();
}

const browser = await chromium.launch({
	executablePath: process.env.CHROMIUM,
	args: ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
});
for (const colorScheme of ["light", "dark"]) {
	for (const width of [400, 1600]) {
		// The rules are put into the page, which its own policy forbids.
		const context = await browser.newContext({ colorScheme, viewport: { width, height: 900 }, bypassCSP: true });
		await mustFail(context);
		for (const file of process.argv.slice(2)) {
			const name = `${file} ${colorScheme} ${width} px`;
			console.log(`${name}: ${await look(context, file, name, width < 500)} rules hold`);
		}
		await context.close();
	}
}
await browser.close();
for (const f of faults) console.log(`FAULT ${f}`);
process.exit(faults.length ? 1 : 0);

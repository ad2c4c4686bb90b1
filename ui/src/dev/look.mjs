/**
 * Takes pictures of the parts on the invented days and reports labels that overlap or lie outside the drawing:
 * `npx vite --port 5199 &`, then `node src/dev/look.mjs DIR`.
 */
import { mkdirSync } from 'node:fs';
import { chromium } from 'playwright-core';

const [dir = '/tmp/look', only] = process.argv.slice(2);
const base = process.env.HARNESS ?? 'http://127.0.0.1:5199/src/dev/harness.html';
const states = [
  ['noon-grid', 'dual', 9.7],
  ['noon-outage', 'dual', 12],
  ['switching', 'dual', 10.205],
  ['clouds-outage', 'dual', 14.4],
  ['night-grid-pumping', 'night', 4],
  ['night-outage', 'dual', 20],
  ['tank-full', 'full', 13.5],
  ['battery-outage', 'battery', 12],
  ['battery-night', 'battery', 21],
  ['battery-generator', 'generator', 21],
  ['generator', 'genset', 9],
  ['grid-only', 'gridOnly', 12],
  ['drive-only', 'driveOnly', 11],
  ['large', 'large', 19],
  ['large-noon', 'large', 12],
  ['small', 'small', 12],
  ['parted', 'parted', 9],
  ['mixed', 'dual', 7],
];
const widths = [390, 640, 820, 1440];

/** Runs in the page: pairs of labels that overlap, and labels outside their drawing. */
function faults() {
  const found = [];
  for (const svg of document.querySelectorAll('main svg')) {
    const frame = svg.getBoundingClientRect();
    const texts = [...svg.querySelectorAll('text')]
      .map((t) => ({
        s: t.textContent,
        b: t.getBoundingClientRect(),
      }))
      .filter((t) => t.b.width > 0);
    for (const [i, a] of texts.entries()) {
      if (
        a.b.left < frame.left - 1 ||
        a.b.right > frame.right + 1 ||
        a.b.top < frame.top - 1 ||
        a.b.bottom > frame.bottom + 2
      ) {
        found.push(`outside: ${a.s}`);
      }
      for (const b of texts.slice(i + 1)) {
        const wide = Math.min(a.b.right, b.b.right) - Math.max(a.b.left, b.b.left);
        const high = Math.min(a.b.bottom, b.b.bottom) - Math.max(a.b.top, b.b.top);
        if (wide > 1 && high > 3.5) found.push(`overlap: ${a.s} | ${b.s}`);
      }
    }
  }
  if (document.documentElement.scrollWidth > innerWidth) found.push('page wider than the screen');
  return found;
}

mkdirSync(dir, { recursive: true });
const browser = await chromium.launch({
  executablePath: '/usr/bin/chromium',
  args: [
    '--no-sandbox',
    '--disable-gpu',
    '--disable-quic',
    '--no-first-run',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-sync',
  ],
});
let bad = 0;
for (const width of widths) {
  const page = await browser.newPage({ viewport: { width, height: 900 } });
  page.on('pageerror', (error) => console.log('error', error.message));
  page.on('console', (message) => message.type() === 'error' && console.log('console', message.text()));
  for (const [name, day, at] of states) {
    if (only && !name.includes(only)) continue;
    await page.goto(`${base}?day=${day}&at=${at}`);
    await page.waitForSelector('figure svg');
    await page.evaluate(() => document.fonts.ready);
    const list = await page.evaluate(faults);
    bad += list.length;
    for (const fault of list) console.log(width, name, fault);
    await page.screenshot({ path: `${dir}/${name}-${width}.png`, fullPage: true });
  }
  await page.close();
}
await browser.close();
console.log(bad === 0 ? 'no faults' : `${bad} faults`);

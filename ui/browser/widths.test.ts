/** Every view on a phone, a tablet and a desktop: it fits, is accessible, and does not move if the user prefers less motion. */
import { mkdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import type { RunOptions } from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { copyOfExample, Desk, emptyFolder, PLANT, ROOT } from './desk';
import { openBrowser, soon, Visit } from './visit';

const SHOTS = join(ROOT, 'target', 'desk-shots');
const WIDTHS = [390, 820, 1440];
const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

let browser: Browser;
let desk: Desk;
let empty: Desk;
let clear: number;

beforeAll(async () => {
  mkdirSync(SHOTS, { recursive: true });
  browser = await openBrowser();
  desk = await Desk.open(copyOfExample());
  empty = await Desk.open(emptyFolder());
  clear = (await desk.answer('dual-mode')).days.find((day) => day.kind === 'clear')!.day;
});

afterAll(async () => {
  await browser.close();
  await desk.remove();
  await empty.remove();
});

/** Asserts that a heading is on the screen, and not only in the page. */
async function inSight(page: Page, name: string | RegExp): Promise<void> {
  const heading = page.getByRole('heading', { name });
  await heading.waitFor();
  const box = await heading.boundingBox();
  expect(box?.y, `top of ${name}`).toBeGreaterThanOrEqual(0);
  expect((box?.y ?? 0) + (box?.height ?? 0), `foot of ${name}`).toBeLessThanOrEqual(
    page.viewportSize()!.height,
  );
}

/** A view, and the parts to open in it. */
const views: { name: string; address: () => string; then?: (page: Page) => Promise<void> }[] = [
  {
    name: 'start',
    address: () => `${empty.origin}/#/`,
    then: (page) => page.getByRole('button', { name: 'Start' }).waitFor(),
  },
  { name: 'plant', address: () => `${desk.origin}/#/plant/${PLANT}?row=dual-mode&day=${clear}&at=11:20` },
  {
    name: 'two-side-by-side',
    address: () => `${desk.origin}/#/plant/${PLANT}?row=dual-mode&beside=grid-only&day=${clear}&at=11:20`,
    then: (page) => page.locator('figure svg').nth(1).waitFor(),
  },
  { name: 'ways', address: () => `${desk.origin}/#/ways/${PLANT}?row=dual-mode` },
  {
    name: 'ways-as-tables',
    address: () => `${desk.origin}/#/ways/${PLANT}?row=dual-mode`,
    then: async (page) => {
      const width = () => page.locator('[data-testid=cash] h2').evaluate((heading) => heading.clientWidth);
      const before = await width();
      for (const summary of await page.locator('details.as-table > summary').all()) await summary.click();
      // A wide table scrolls on its own and widens nothing around it.
      expect(await width()).toBe(before);
    },
  },
  {
    name: 'strings',
    address: () => `${desk.origin}/#/plant/${PLANT}?row=dual-mode`,
    then: async (page) => {
      await page.getByTestId('can-be-built').click();
      await inSight(page, 'Can the strings be built?');
    },
  },
  {
    name: 'inputs',
    address: () => `${desk.origin}/#/plant/${PLANT}?row=dual-mode`,
    then: async (page) => {
      await page.locator('button.inputs').click();
      await page.getByTestId('inputs').waitFor();
    },
  },
  {
    name: 'working-sheet',
    address: () => `${desk.origin}/#/plant/${PLANT}?row=dual-mode`,
    then: async (page) => {
      await page.getByTestId('answer-payback').click();
      await inSight(page, /^Simple payback/);
    },
  },
  {
    name: 'fault',
    address: () => `${desk.origin}/#/plant/${PLANT}?row=dual-mode`,
    then: async (page) => {
      await page.getByRole('button', { name: 'Tank', exact: true }).click();
      await inSight(page, 'Inputs of the plant');
      await page.getByTestId('inputs').getByLabel('volume of the tank when full').fill('-5');
      await page.keyboard.press('Enter');
      await page.getByTestId('faults').waitFor();
    },
  },
];

/** The violations of WCAG 2.1 AA, with their places. */
async function violations(page: Page): Promise<string[]> {
  await page.evaluate(AXE);
  const { violations } = await page.evaluate(async () => {
    const { axe } = window as unknown as { axe: typeof import('axe-core') };
    const values = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa'];
    const options: RunOptions = { runOnly: { type: 'tag', values }, resultTypes: ['violations'] };
    return axe.run(document, options);
  });
  return violations.flatMap(({ id, nodes }) =>
    nodes.map(({ target, failureSummary }) => `${id}: ${target.join(' ')} ${failureSummary}`),
  );
}

for (const width of WIDTHS) {
  describe(`at ${width} px`, () => {
    for (const { name, address, then } of views) {
      it(`${name} fits and is accessible`, async () => {
        const visit = await Visit.begin(browser, {
          viewport: { width, height: width < 500 ? 844 : 900 },
          expected: /422 \(Unprocessable/,
        });
        const { page } = visit;
        await visit.open(address());
        await then?.(page);
        await page.screenshot({ path: join(SHOTS, `${name}-${width}.png`), fullPage: name !== 'inputs' });
        const [wide, wanted] = await page.evaluate(() => {
          const { clientWidth, scrollWidth } = document.scrollingElement!;
          return [clientWidth, scrollWidth];
        });
        expect(wanted, 'width of the page').toBeLessThanOrEqual(wide!);
        expect(await violations(page)).toEqual([]);
        // The page keeps an invalid value and asks before it is closed.
        page.on('dialog', (dialog) => void dialog.accept());
        await visit.end();
      });
    }
  });
}

/** Pairs of texts in the strip of answers that overlap, and texts that leave their own answer. */
const strayTexts = (page: Page) =>
  page.locator('[data-testid^=answer-]').evaluateAll((answers) => {
    const texts = answers.flatMap((answer) => {
      const own = answer.getBoundingClientRect();
      return [...answer.querySelectorAll('span')].map((span) => {
        const range = document.createRange();
        range.selectNodeContents(span);
        return { text: span.textContent, own, box: range.getBoundingClientRect() };
      });
    });
    const outside = texts
      .filter(({ own, box }) => box.left < own.left || box.right > own.right + 0.5)
      .map(({ text }) => text);
    const overlapping = texts.flatMap((one, i) =>
      texts.slice(i + 1).flatMap((other) => {
        const wide = Math.min(one.box.right, other.box.right) - Math.max(one.box.left, other.box.left);
        const high = Math.min(one.box.bottom, other.box.bottom) - Math.max(one.box.top, other.box.top);
        return wide > 0.5 && high > 4 ? [`${one.text} | ${other.text}`] : [];
      }),
    );
    return [...outside, ...overlapping];
  });

describe('the strip of answers with a long amount', () => {
  for (const width of [360, 640, 800, 960, 1180, 1440]) {
    it(`has no texts that overlap at ${width} px`, async () => {
      const visit = await Visit.begin(browser, { viewport: { width, height: 900 } });
      const { page } = visit;
      await page.route('**/api/answer', async (route) => {
        const response = await route.fetch();
        const json = (await response.json()) as {
          comparison: { arrangements: { money: Record<string, unknown> }[] };
        };
        for (const { money } of json.comparison.arrangements)
          Object.assign(money, { currency: 'PKR', first_year_bill: 12_380_842, payback_years: 3 });
        await route.fulfill({ response, json });
      });
      await visit.open(`${desk.origin}/#/plant/${PLANT}?row=dual-mode`);
      expect((await visit.answers()).bill.value.replace(/\s/, ' ')).toMatch(/^12,3\d\d,\d\d\d PKR$/);
      expect(await strayTexts(page)).toEqual([]);
      const wide = await page.evaluate(() => document.scrollingElement!.scrollWidth);
      expect(wide, 'width of the page').toBeLessThanOrEqual(width);
      await visit.end();
    });
  }
});

const moving = (page: Page) =>
  page.evaluate(() => document.getAnimations().filter((one) => one.playState === 'running').length);

it('flows move, and nothing moves if the user prefers less motion', async () => {
  const address = `${desk.origin}/#/plant/${PLANT}?row=dual-mode&day=${clear}&at=11:20`;
  const visit = await Visit.begin(browser);
  await visit.open(address);
  await soon(async () => expect(await moving(visit.page)).toBeGreaterThan(0));
  await visit.end();

  const calm = await Visit.begin(browser, { reducedMotion: 'reduce' });
  await calm.open(address);
  expect(await calm.page.locator('path.moving').count()).toBeGreaterThan(0);
  expect(await moving(calm.page)).toBe(0);
  // A changed value marks the old figures; that must not move anything either.
  await calm.page.getByTestId('slider-array.tilt_deg').focus();
  await calm.page.keyboard.press('ArrowRight');
  expect(await moving(calm.page)).toBe(0);
  await calm.settled();
  await calm.end();
});

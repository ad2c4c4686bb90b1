/** Every view is a link, and the back button leads back. */
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { copyOfExample, Desk, PLANT } from './desk';
import { openBrowser, soon, Visit } from './visit';

let browser: Browser;
let desk: Desk;

beforeAll(async () => {
  browser = await openBrowser();
  desk = await Desk.open(copyOfExample());
});

afterAll(async () => {
  await browser.close();
  await desk.remove();
});

/** The content of the open view. */
async function shown(visit: Visit): Promise<object> {
  await visit.settled();
  const main = visit.page.getByRole('main');
  return { answers: await visit.answers(), main: await main.innerText() };
}

it('back and forward between views, arrangements and days; each address shows the same to another reader', async () => {
  const visit = await Visit.begin(browser);
  const { page } = visit;
  await visit.open(`${desk.origin}/#/plant/${PLANT}`);
  const seen: { url: string; shown: object }[] = [];
  const note = async (view: RegExp) => {
    await soon(() => expect(page.url()).toMatch(view));
    const at = /row=([\w-]+)/.exec(page.url())?.[1];
    const picture = page.getByTestId('row');
    if (at && (await picture.count()) > 0)
      await soon(async () => expect(await picture.inputValue()).toBe(at));
    seen.push({ url: page.url(), shown: await shown(visit) });
  };
  await note(/#\/plant\/plant\.toml$/);
  await page.getByTestId('row').selectOption('grid-tied');
  await note(/row=grid-tied/);
  await page.getByTestId('day').selectOption({ index: 0 });
  await note(/row=grid-tied&day=\d+/);
  await page.getByTestId('beside').selectOption('solar-drive');
  await note(/beside=solar-drive/);
  await page.getByRole('link', { name: 'Compare arrangements' }).click();
  await note(/#\/ways\//);
  await page.getByRole('link', { name: 'Show this arrangement: Battery hybrid' }).click();
  await note(/#\/plant\/.*row=battery-hybrid/);

  for (const step of seen.slice(0, -1).reverse()) {
    await page.goBack();
    await soon(async () => {
      expect(page.url()).toBe(step.url);
      expect(await shown(visit)).toEqual(step.shown);
    });
  }
  await page.goForward();
  await soon(async () => expect(await shown(visit)).toEqual(seen[1]!.shown));
  await visit.end();

  for (const { url, shown: was } of seen) {
    const other = await Visit.begin(browser);
    await other.open(url);
    await soon(async () => expect(await shown(other)).toEqual(was));
    await other.end();
  }
});

it('an address that leads nowhere shows a message', async () => {
  const visit = await Visit.begin(browser, { expected: /400 \(Bad Request\)/ });
  await visit.page.goto(`${desk.origin}/#/plant/elsewhere/plant.toml`);
  await visit.page.getByText('is not a file in the opened folder').waitFor();
  await visit.page.goto(`${desk.origin}/#/no-such-view`);
  await visit.page.getByRole('heading', { name: 'Which plant?' }).waitFor();
  await visit.end();
});

it('the first Tab skips the head of the page', async () => {
  const visit = await Visit.begin(browser);
  await visit.open(`${desk.origin}/#/plant/${PLANT}`);
  await visit.page.keyboard.press('Tab');
  await visit.page.keyboard.press('Enter');
  expect(await visit.page.evaluate(() => document.activeElement?.id)).toBe('view');
  await visit.end();
});

/** A sun made from monthly means is marked next to the answers of every view, and the mark opens its inputs. */
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { copyOfExample, Desk, PLANT } from './desk';
import { openBrowser, Visit } from './visit';

let browser: Browser;

beforeAll(async () => {
  browser = await openBrowser();
});

afterAll(async () => {
  await browser.close();
});

it('names the fault of a file that is missing, as the page has no field for it', async () => {
  const desk = await Desk.open(copyOfExample('tamarind-post'));
  const visit = await Visit.begin(browser, { expected: /422 \(Unprocessable/ });
  const { page } = visit;
  await visit.open(`${desk.origin}/#/plant/${PLANT}`);
  await page.getByTestId('preliminary').click();
  const made = page.getByRole('radiogroup', {
    name: 'whether a synthetic year is made from twelve monthly means',
  });
  await made.getByRole('radio', { name: 'no' }).check();
  await page
    .getByRole('status')
    .filter({ hasText: /^Not saved: weather file: not given; .*add file to \[weather\]/ })
    .waitFor();
  page.on('dialog', (dialog) => void dialog.accept());
  await visit.end();
  await desk.remove();
});

it('is shown once, above the table of arrangements', async () => {
  const desk = await Desk.open(copyOfExample('tamarind-post'));
  const visit = await Visit.begin(browser);
  const { page } = visit;
  await visit.open(`${desk.origin}/#/ways/${PLANT}`);
  expect(await page.getByTestId('plant-notes').innerText()).toContain('preliminary');
  expect(await page.getByTestId('ways').textContent()).not.toContain('preliminary');
  await visit.end();
  await desk.remove();
});

it('is marked if the year is made from means, and not if there is a weather file', async () => {
  const desk = await Desk.open(copyOfExample('tamarind-post'));
  const visit = await Visit.begin(browser);
  const { page } = visit;
  await visit.open(`${desk.origin}/#/ways/${PLANT}`);
  const mark = page.getByTestId('preliminary');
  expect(await mark.innerText()).toMatch(
    /Weather data is preliminary\. Source: synthetic year from twelve monthly means of the plant file/,
  );
  await page.goto(`${desk.origin}/#/plant/${PLANT}`);
  await mark.waitFor();
  await mark.click();
  await visit.field('random seed of the synthetic year').waitFor();
  await visit.end();
  await desk.remove();

  const other = await Desk.open(copyOfExample());
  const second = await Visit.begin(browser);
  await second.open(`${other.origin}/#/ways/${PLANT}`);
  await second.page.getByTestId('can-be-built').waitFor();
  expect(await second.page.getByTestId('preliminary').count()).toBe(0);
  await second.end();
  await other.remove();
});

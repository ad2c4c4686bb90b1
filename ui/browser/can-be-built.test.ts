/** The line *can be built*: for an example, for a string that is too long, and for values that nobody confirmed. */
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { copyOfExample, Desk, emptyFolder, PLANT } from './desk';
import { openBrowser, Visit } from './visit';

let browser: Browser;

beforeAll(async () => {
  browser = await openBrowser();
});

afterAll(async () => {
  await browser.close();
});

it('turns from good to forbidden with one module too many, and says why in the words of the engine', async () => {
  const desk = await Desk.open(copyOfExample());
  const visit = await Visit.begin(browser);
  const { page } = visit;
  await visit.open(`${desk.origin}/#/plant/${PLANT}?row=dual-mode`);
  const line = page.getByTestId('can-be-built');
  expect(await line.innerText()).toContain('The strings can be built.');
  await line.click();
  const sheet = page.getByRole('dialog');
  expect(await sheet.innerText()).toMatch(/if one of 3 strings is faulty, the others push 27\.6 A back/i);
  await sheet.getByRole('button', { name: 'Close' }).click();
  await sheet.waitFor({ state: 'detached' });

  await page.getByRole('button', { name: 'Array', exact: true }).click();
  const field = visit.field('modules in series in a string');
  await field.fill('16');
  await field.press('Enter');
  await visit.settled();
  await line.filter({ hasText: 'Do not build these strings. 1 rule violation.' }).waitFor();
  await line.click();
  // Calculated by hand: 16 · 50.0268 V = 800.43 V.
  expect(await sheet.innerText()).toContain('16 modules in series reach 800.43 V');
  expect(await sheet.innerText()).toContain('at most 15 in series, or a drive that withstands 801 V');
  await page.keyboard.press('Escape');
  await sheet.waitFor({ state: 'detached' });
  await page.goto(`${desk.origin}/#/ways/${PLANT}?row=dual-mode`);
  await line.filter({ hasText: 'Do not build these strings.' }).waitFor();
  await visit.end();
  await desk.remove();
});

it('is never good with values that nobody confirmed, and opens them', async () => {
  const desk = await Desk.open(emptyFolder());
  const visit = await Visit.begin(browser);
  const { page } = visit;
  await visit.open(desk.origin);
  await page.getByRole('radio', { name: 'mulenga ridge' }).check();
  await page.getByLabel('Name of the new folder').fill('farm');
  await page.getByRole('button', { name: 'Start' }).click();
  await visit.settled('Saved in farm/plant.toml');
  const line = page.getByTestId('can-be-built');
  expect(await line.innerText()).toMatch(
    /The strings are not ready to build yet\. .* \d+ values .* not confirmed/,
  );
  await line.click();
  await page.getByRole('dialog').getByRole('button', { name: 'coldest air temperature on record' }).click();
  await visit.field('lowest air temperature ever recorded near the site').waitFor();
  await visit.end();
  await desk.remove();
});

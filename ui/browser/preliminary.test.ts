/** A sun made from monthly means is marked beside the answers of every view, and the mark opens its inputs. */
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

/** The first visit of a user who starts the desk in an empty folder. */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { Desk, emptyFolder } from './desk';
import { openBrowser, Visit } from './visit';

let browser: Browser;
let desk: Desk;

beforeAll(async () => {
  browser = await openBrowser();
  desk = await Desk.open(emptyFolder());
});

afterAll(async () => {
  await browser.close();
  await desk.remove();
});

it('an empty folder offers a plant from an example, and shows its picture and its five answers', async () => {
  const visit = await Visit.begin(browser);
  const { page } = visit;
  await visit.open(desk.origin);
  await page.getByText('There is no plant in this folder yet').waitFor();
  await page.getByRole('radio', { name: 'mulenga ridge' }).check();
  await page.getByLabel('Name of the new folder').fill('my-farm');
  await page.getByRole('button', { name: 'Start' }).click();

  await visit.settled('Saved in my-farm/plant.toml');
  expect(await page.title()).toContain('Mulenga Ridge');
  expect(await page.getByRole('heading', { level: 1 }).innerText()).toBe('Mulenga Ridge');
  expect(existsSync(join(desk.folder, 'my-farm', 'plant.toml'))).toBe(true);
  const answers = await visit.answers();
  for (const { name, value } of Object.values(answers)) expect(value, name).toMatch(/\d|never/);
  expect(answers.water.value).toMatch(/^\d+\s%$/);
  const picture = page.locator('figure svg').first();
  expect(await picture.boundingBox()).toMatchObject({ width: expect.any(Number) });
  expect(await visit.sentence().textContent()).toMatch(/^12:00\. The grid is .* The pump .* The tank .*/);

  await page.goto(`${desk.origin}/#/`);
  await page.getByRole('link', { name: /my-farm\/plant\.toml/ }).waitFor();
  expect(visit.requests.filter((url) => url.includes('/api/')).length).toBeGreaterThan(3);
  expect(visit.requests.every((url) => url.startsWith(`${desk.origin}/`))).toBe(true);
  await visit.end();
});

it('a folder name that leads elsewhere is refused with a reason', async () => {
  const visit = await Visit.begin(browser, { expected: /400 \(Bad Request\)/ });
  const { page } = visit;
  await visit.open(desk.origin);
  await page.getByLabel('Name of the new folder').fill('../outside');
  await page.getByRole('button', { name: 'Start' }).click();
  expect(await page.getByRole('alert').innerText()).toContain('not a valid folder name');
  expect(existsSync(join(desk.folder, '..', 'outside'))).toBe(false);
  await visit.end();
});

it('a violation of the content policy is noticed', async () => {
  const visit = await Visit.begin(browser);
  await visit.open(desk.origin);
  await visit.page.evaluate(() => {
    const script = document.createElement('script');
    script.textContent = 'window.broken = true';
    document.head.append(script);
  });
  expect(await visit.page.evaluate(() => 'broken' in window)).toBe(false);
  expect(visit.troubles.join('\n')).toContain('content policy: script-src');
  await visit.page.close();
});

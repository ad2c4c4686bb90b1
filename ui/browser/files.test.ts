/** The plant's files while the page is open: two tabs, an editor, a desk that stops. */
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from 'vitest';
import { copyOfExample, Desk, PLANT } from './desk';
import { openBrowser, soon, Visit } from './visit';

let browser: Browser;
let context: BrowserContext;
let desk: Desk;

beforeAll(async () => {
  browser = await openBrowser();
});

beforeEach(async () => {
  desk = await Desk.open(copyOfExample());
  context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
});

afterEach(async () => {
  await context.close();
  await desk.remove();
});

afterAll(async () => {
  await browser.close();
});

/** The first change is refused if the files are not as the page knows them; a stopped desk refuses all. */
const expected = /409 \(Conflict\)|ERR_CONNECTION|ERR_EMPTY_RESPONSE/;

async function tab(): Promise<Visit> {
  const visit = await Visit.begin(context, { expected, clock: true });
  await visit.open(`${desk.origin}/#/plant/${PLANT}?row=dual-mode`);
  return visit;
}

async function setTank(visit: Visit, value: string): Promise<void> {
  const panel = visit.page.getByTestId('inputs');
  if ((await panel.count()) === 0)
    await visit.page.getByRole('button', { name: 'Tank', exact: true }).click();
  const field = visit.field('volume of the tank when full');
  await field.fill(value);
  await field.press('Enter');
}

const tankIs = (value: string) =>
  soon(() => expect(desk.line('capacity_m3')).toMatch(new RegExp(`^capacity_m3 = ${value} #`)));

/** Longer than the time without changes after which the page saves a valid value, in ms. */
const LONG_MS = 5000;

const banner = (page: Page) => page.getByText('Another program has changed the plant’s files');
/** The user returns to this window. */
const comeBack = (page: Page) => page.evaluate(() => window.dispatchEvent(new Event('focus')));

it('a change saved in one tab is noticed by the other, which may take it', async () => {
  const [one, other] = [await tab(), await tab()];
  await setTank(one, '40');
  await one.settled();
  await tankIs('40');
  await comeBack(other.page);
  await banner(other.page).waitFor();

  await other.page.getByRole('button', { name: 'Load the files' }).click();
  await banner(other.page).waitFor({ state: 'detached' });
  await other.settled();
  expect(await other.answers()).toEqual(await one.answers());
  expect(await other.page.getByTestId('slider-tank.capacity_m3').inputValue()).toBe('40');
  // From here on it saves again.
  await setTank(other, '50');
  await tankIs('50');
  await other.settled();
  await one.end();
  await other.end();
});

it('changes in both tabs: nothing is overwritten without a question, and each choice does what it says', async () => {
  const [one, other] = [await tab(), await tab()];
  await setTank(one, '40');
  await one.settled();
  await tankIs('40');
  await setTank(other, '70');
  await banner(other.page).waitFor();
  const saves = other.saves;
  await other.pass(LONG_MS);
  expect(other.saves).toBe(saves);
  await tankIs('40');
  await other.page.getByRole('button', { name: 'Overwrite with my changes' }).click();
  await tankIs('70');
  await other.settled();
  expect(await banner(other.page).count()).toBe(0);

  // Now the first tab is out of date; its change is discarded when it takes the files.
  await setTank(one, '90');
  await banner(one.page).waitFor();
  await one.page.getByRole('button', { name: 'Load the files' }).click();
  await one.settled();
  expect(await one.field('volume of the tank when full').inputValue()).toBe('70');
  const saves_of_one = one.saves;
  await one.pass(LONG_MS);
  expect(one.saves).toBe(saves_of_one);
  await tankIs('70');
  expect(await one.answers()).toEqual(await other.answers());
  await one.end();
  await other.end();
});

it('a file changed by an editor is noticed, and a change on the page is applied to it', async () => {
  const visit = await tab();
  desk.write(desk.read().replace('tilt_deg = 18 #', 'tilt_deg = 10 #') + '# checked on the roof\n');
  await setTank(visit, '60');
  await banner(visit.page).waitFor();
  expect(desk.line('capacity_m3')).toMatch(/^capacity_m3 = 165 #/);
  await visit.page.getByRole('button', { name: 'Overwrite with my changes' }).click();
  await tankIs('60');
  await visit.settled();
  expect(desk.line('tilt_deg')).toMatch(/^tilt_deg = 10 #/);
  expect(desk.read()).toContain('# checked on the roof');
  expect(await visit.page.getByTestId('slider-array.tilt_deg').inputValue()).toBe('10');
  await visit.end();
});

it('a file that an editor broke is reported with its line, and the page continues when it is fixed', async () => {
  const visit = await Visit.begin(context, { expected: /422 \(Unprocessable/ });
  await visit.open(`${desk.origin}/#/plant/${PLANT}`);
  const good = desk.read();
  desk.write(good.replace('tilt_deg = 18 #', 'tilt_deg = 180 #'));
  await comeBack(visit.page);
  const line = good.split('\n').findIndex((text) => text.startsWith('tilt_deg')) + 1;
  await visit.page.getByRole('button', { name: `${PLANT}, line ${line}` }).waitFor();
  expect(await visit.page.locator('.stage.stale').count()).toBe(1);
  desk.write(good);
  await comeBack(visit.page);
  await visit.settled();
  expect(await visit.page.getByTestId('faults').count()).toBe(0);
  await visit.end();
});

it('the desk stops and returns: the page says so, keeps the typed value, and saves it', async () => {
  const visit = await tab();
  const { page } = visit;
  const [port, before] = [desk.port, await visit.answers()];
  await desk.kill();
  await setTank(visit, '40');
  await page.getByText('Daylift does not respond.').waitFor();
  expect(await visit.field('volume of the tank when full').inputValue()).toBe('40');
  expect(await visit.answers()).toEqual(before);
  expect(await page.locator('.stage.stale').count()).toBe(1);
  await page.getByRole('status').filter({ hasText: 'Not saved yet' }).waitFor();
  expect(desk.line('capacity_m3')).toMatch(/^capacity_m3 = 165 #/);

  await desk.start(port);
  await tankIs('40');
  await visit.settled();
  expect(await page.getByText('Daylift does not respond.').count()).toBe(0);
  const fresh = await tab();
  expect(await visit.answers()).toEqual(await fresh.answers());
  expect(await visit.answers()).not.toEqual(before);
  await fresh.end();
  await visit.end();
});

it('a page with nothing to save also notices that the desk is back', async () => {
  const visit = await tab();
  const { page } = visit;
  const port = desk.port;
  await desk.kill();
  await page.getByTestId('row').selectOption('solar-drive');
  await page.getByText('Daylift does not respond.').waitFor();
  await desk.start(port);
  await page.getByText('Daylift does not respond.').waitFor({ state: 'detached' });
  await visit.settled();
  await visit.end();
});

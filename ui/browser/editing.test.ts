/** Values changed on the page, and the plant's file after it. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from 'vitest';
import { copyOfExample, Desk, PLANT } from './desk';
import { openBrowser, soon, Visit } from './visit';

let browser: Browser;
let desk: Desk;
let visit: Visit;
let page: Page;

beforeAll(async () => {
  browser = await openBrowser();
});

beforeEach(async () => {
  desk = await Desk.open(copyOfExample());
  // The browser logs each refused value.
  visit = await Visit.begin(browser, { expected: /422 \(Unprocessable/, clock: true });
  page = visit.page;
  await visit.open(`${desk.origin}/#/plant/${PLANT}?row=dual-mode`);
});

afterEach(async () => {
  await desk.remove();
});

afterAll(async () => {
  await browser.close();
});

/** Longer than the time without changes after which the page saves a valid value, in ms. */
const LONG_MS = 5000;

const tankLine = () => desk.line('capacity_m3');

async function openTank(): Promise<ReturnType<Visit['field']>> {
  await page.getByRole('button', { name: 'Tank', exact: true }).click();
  return visit.field('volume of the tank when full');
}

/** All lines of a file except the line of a key. */
const others = (text: string, key: string) =>
  text
    .split('\n')
    .filter((line) => !line.startsWith(`${key} =`))
    .join('\n');

it('an invalid value is reported at its field in the words of the engine; the file stays, and the old figures are marked', async () => {
  const [file, answers] = [desk.read(), await visit.answers()];
  const field = await openTank();
  await field.fill('-5');
  await field.press('Enter');

  await page.getByTestId('faults').waitFor();
  const refused = await fetch(`${desk.origin}/api/answer`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({
      plant: PLANT,
      changes: [{ file: PLANT, keys: 'tank.capacity_m3', value: -5 }],
      looked_at: null,
      turn: { page: 'test', number: 1 },
    }),
  });
  expect(refused.status).toBe(422);
  const { faults } = (await refused.json()) as {
    faults: { quantity: string; given: string; allowed: string; remedy: string; line: number }[];
  };
  expect(faults).toHaveLength(1);
  const [fault] = faults;
  expect(await field.getAttribute('aria-invalid')).toBe('true');
  const described = await page.locator(`[id="${await field.getAttribute('aria-describedby')}"]`).innerText();
  const banner = await page.getByTestId('faults').innerText();
  for (const words of [fault!.quantity, fault!.given, fault!.allowed, fault!.remedy]) {
    // The page sets text of a file in another font, without the backticks of the engine.
    const plain = words.replaceAll('`', '');
    expect(described).toContain(plain);
    expect(banner).toContain(plain);
  }
  expect(await page.getByTestId('faults').locator('code').allInnerTexts()).toEqual(['capacity_m3']);
  expect(banner).toContain(`${PLANT}, line ${fault!.line}`);
  expect(banner).toContain('from the last valid values');
  expect(await page.locator('.stage.stale').count()).toBe(1);
  expect(await visit.answers()).toEqual(answers);
  expect(await field.inputValue()).toBe('-5');
  await page.getByRole('status').filter({ hasText: 'Not saved: fix the marked fields first' }).waitFor();
  await visit.pass(LONG_MS);
  expect(visit.saves).toBe(0);
  expect(desk.read()).toBe(file);

  await field.fill('210');
  await field.press('Enter');
  await visit.settled();
  expect(await page.getByTestId('faults').count()).toBe(0);
  expect(await field.getAttribute('aria-invalid')).toBe('false');
  expect(tankLine()).toBe("capacity_m3 = 210 # about 1.2 days of the year's mean demand");
  expect(others(desk.read(), 'capacity_m3')).toBe(others(file, 'capacity_m3'));
  await visit.end();
});

it('a text that is not a number is refused at the field', async () => {
  const file = desk.read();
  const field = await openTank();
  await field.fill('big');
  await field.press('Enter');
  await page.getByText('Enter a number.').waitFor();
  expect(await field.getAttribute('aria-invalid')).toBe('true');
  await visit.pass(LONG_MS);
  expect(visit.saves).toBe(0);
  expect(desk.read()).toBe(file);
  await visit.end();
});

it('undo and redo with buttons and keys change the file, too', async () => {
  const file = desk.read();
  const before = await visit.answers();
  const field = await openTank();
  for (const value of ['40', '60']) {
    await field.fill(value);
    await field.press('Enter');
    await visit.settled();
    expect(tankLine()).toMatch(new RegExp(`^capacity_m3 = ${value} #`));
  }
  const changed = await visit.answers();
  expect(changed).not.toEqual(before);

  const follows = async (value: string) => {
    await soon(() => expect(tankLine()).toMatch(new RegExp(`^capacity_m3 = ${value} #`)));
    await visit.settled();
    expect(await field.inputValue()).toBe(value);
  };
  const [undo, redo] = ['Undo', 'Redo'].map((name) => page.getByRole('button', { name, exact: true }));
  await undo!.click();
  await follows('40');
  await undo!.click();
  await follows('165');
  expect(desk.read()).toBe(file);
  expect(await visit.answers()).toEqual(before);
  expect(await undo!.isDisabled()).toBe(true);
  await redo!.click();
  await follows('40');

  await page.getByRole('slider', { name: 'Time of day' }).focus();
  await page.keyboard.press('Control+Shift+z');
  await follows('60');
  expect(await visit.answers()).toEqual(changed);
  expect(await redo!.isDisabled()).toBe(true);
  await page.keyboard.press('Control+z');
  await page.keyboard.press('Control+z');
  await follows('165');
  await page.keyboard.press('Control+y');
  await follows('40');
  await visit.end();
});

it('the keyboard alone reaches an input and changes it', async () => {
  const seen: string[] = [];
  const tabTo = async (name: string) => {
    for (let i = 0; i < 60; i++) {
      await page.keyboard.press('Tab');
      const focused = await page.evaluate(() => {
        const element = document.activeElement;
        const label = element instanceof HTMLInputElement ? element.labels?.[0] : null;
        return (label ?? element)?.textContent?.trim() ?? '';
      });
      seen.push(focused);
      if (focused.toLowerCase().startsWith(name)) return;
    }
    throw new Error(`no way to ${name} by Tab: ${seen.join(' | ')}`);
  };
  await tabTo('inputs');
  await page.keyboard.press('Enter');
  await page.getByTestId('inputs').waitFor();
  await page.keyboard.press('Tab');
  await page.keyboard.press('Tab');
  expect(await page.evaluate(() => (document.activeElement as HTMLInputElement).type)).toBe('search');
  await page.keyboard.type('tank.capacity');
  await tabTo('volume of the tank when full');
  await page.keyboard.press('Control+a');
  await page.keyboard.type('150');
  await page.keyboard.press('Enter');
  await soon(() => expect(tankLine()).toMatch(/^capacity_m3 = 150 #/));
  await visit.settled();
  await visit.end();
});

it('an unsaved value is offered when the page is opened again, to restore or discard it', async () => {
  const address = `${desk.origin}/#/plant/${PLANT}?row=dual-mode`;
  const file = desk.read();
  const context = await browser.newContext();
  const open = async () => {
    const visit = await Visit.begin(context, { expected: /422 \(Unprocessable/ });
    await visit.page.goto(address);
    await visit.page.getByTestId('answer-water').waitFor();
    return visit;
  };
  const type = async (visit: Visit, value: string) => {
    await visit.page.getByRole('button', { name: 'Tank', exact: true }).click();
    const field = visit.field('volume of the tank when full');
    await field.fill(value);
    await field.press('Enter');
  };
  const offer = (visit: Visit) => visit.page.getByTestId('unwritten');

  const first = await open();
  expect(await offer(first).count()).toBe(0);
  await type(first, '-5');
  await first.page.getByTestId('faults').waitFor();
  await first.end();

  const second = await open();
  expect(await offer(second).innerText()).toMatch(/One change .*volume of the tank when full: -5 m³/s);
  await second.end();

  // The user did not choose, so the page offers it again.
  const third = await open();
  await offer(third).getByRole('button', { name: 'Restore' }).click();
  await third.page.getByTestId('faults').waitFor();
  expect(await offer(third).count()).toBe(0);
  expect(desk.read()).toBe(file);
  await third.end();

  const fourth = await open();
  await offer(fourth).getByRole('button', { name: 'Discard' }).click();
  expect(await offer(fourth).count()).toBe(0);
  await fourth.end();

  const fifth = await open();
  await fifth.settled();
  expect(await offer(fifth).count()).toBe(0);
  await type(fifth, '210');
  await soon(() => expect(tankLine()).toMatch(/^capacity_m3 = 210 /));
  await fifth.settled();
  await fifth.end();
  const last = await open();
  await last.settled();
  expect(await offer(last).count()).toBe(0);
  await last.end();
  await context.close();
  await visit.end();
});

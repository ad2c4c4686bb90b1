/** The farmer's question: what happens when the grid goes, and when it comes back? */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { Day, Moment } from '../src/api/types';
import { copyOfExample, Desk, PLANT } from './desk';
import { openBrowser, soon, Visit } from './visit';

const HOUR_S = 3600;
const ROW = 'dual-mode';

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

const scrubber = (page: Page) => page.getByRole('slider', { name: 'Time of day' });
const gridSwitch = (page: Page) => page.getByRole('switch', { name: 'Grid' });

/** Goes to a time with the keyboard alone. */
async function goTo(page: Page, hour: number): Promise<void> {
  await scrubber(page).focus();
  await page.keyboard.press('Home');
  for (let i = 0; i < hour; i++) await page.keyboard.press('PageUp');
  const clock = `${String(hour).padStart(2, '0')}:00`;
  expect(await scrubber(page).getAttribute('aria-valuetext')).toContain(clock);
}

/** Toggles the grid switch with the keyboard, and waits for the new day. */
async function turn(page: Page, there: boolean): Promise<void> {
  expect(await gridSwitch(page).getAttribute('aria-checked')).toBe(String(!there));
  const answered = page.waitForResponse((response) => response.url().endsWith('/api/day'));
  await gridSwitch(page).press('Space');
  await answered;
  await soon(async () => {
    expect(await gridSwitch(page).getAttribute('aria-checked')).toBe(String(there));
    expect(await scrubber(page).getAttribute('aria-valuetext')).toContain(there ? 'grid on' : 'grid down');
  });
}

const momentAt = (day: Day, at_s: number): Moment =>
  day.moments.findLast((moment) => moment.start_s <= at_s + 1e-6)!;

/** Numbers of kW with one decimal, as the sentences give them. */
const kw = (value: number) => `${value.toFixed(1)}\u00a0kW`;

it('the grid fails at 11:00 and returns at 13:00: the drive takes over, the inverter feeds after its delays', async () => {
  const clear = (await desk.answer(ROW)).days.find((day) => day.kind === 'clear')!;
  const visit = await Visit.begin(browser);
  const { page } = visit;
  await visit.open(`${desk.origin}/#/plant/${PLANT}?row=${ROW}`);
  await page.getByTestId('day').selectOption({ value: String(clear.day) });
  await soon(() => expect(page.url()).toContain(`day=${clear.day}`));

  // On this day the grid is down at 11:00 in the farm’s own record, so the test first restores it at 10:00.
  await goTo(page, 10);
  await turn(page, true);
  await goTo(page, 11);
  await turn(page, false);
  await goTo(page, 13);
  await turn(page, true);
  const switched = [
    { at_s: 10 * HOUR_S, utility: true },
    { at_s: 11 * HOUR_S, utility: false },
    { at_s: 13 * HOUR_S, utility: true },
  ];
  const day = await desk.day(ROW, clear.day, switched);
  const sentence = async () => (await visit.sentence().textContent()) ?? '';

  // During the outage, compare with the engine every ten minutes.
  let driven = 0;
  await goTo(page, 11);
  for (let tens = 1; tens < 12; tens++) {
    await page.keyboard.press('ArrowRight');
    const moment = momentAt(day, 11 * HOUR_S + tens * 600);
    expect(moment.utility).toBe(false);
    const said = await sentence();
    expect(said).toContain('The grid is down.');
    expect(said).toContain(`The loads have no power; they need ${kw(moment.load_kw)}.`);
    if (moment.array_on === 'drive' && moment.array_to_pump_kw > 0.05) {
      driven++;
      expect(said).toContain(
        `The array feeds the drive: ${kw(moment.array_to_pump_kw)} of ${kw(moment.available_kw)}.`,
      );
      expect(said).toContain(`The pump runs at ${Math.round(moment.hz)}\u00a0Hz`);
    } else {
      expect(said).toContain('The pump does not run.');
    }
  }
  expect(driven).toBeGreaterThan(0);

  // The grid returns: stable for 120 s, 40 s to the mains, 60 s until the inverter may feed, from the plant file.
  const waits_s = [120, 40, 60];
  const keys = [
    ['changeover', 'grid_stable_s', waits_s[0]],
    ['changeover', 'to_mains_s', waits_s[1]],
    ['inverter', 'reconnection_s', waits_s[2]],
  ] as const;
  for (const [, key, value] of keys) expect(desk.line(key)).toMatch(new RegExp(`^${key} = ${value}\\b`));
  const feeds_s = 13 * HOUR_S + waits_s.reduce((a, b) => a + b, 0);
  const first = day.moments.find((m) => m.start_s >= 13 * HOUR_S && m.array_on === 'inverter');
  expect(first?.start_s).toBeCloseTo(feeds_s, 3);
  // Every minute, as the address has whole minutes.
  const at = async (minute: number) => {
    const clock = `13:${String(minute).padStart(2, '0')}`;
    await page.evaluate((clock) => {
      location.hash = location.hash.replace(/at=[\d:]+/, `at=${clock}`);
    }, clock);
    await soon(async () => expect(await scrubber(page).getAttribute('aria-valuetext')).toContain(clock));
    return sentence();
  };
  const justBack = await at(1);
  expect(justBack).not.toContain('The loads have no power');
  expect(justBack).not.toContain('feeds the inverter');
  expect(await at(2)).toContain('The array is being switched over');
  expect(await at(3)).toMatch(/array .*(nothing|waits|not used)/);
  const feeding = await at(4);
  const moment = momentAt(day, 13 * HOUR_S + 240);
  const used = moment.array_to_pump_kw + moment.array_to_loads_kw + moment.exported_kw;
  expect(feeding).toContain(`The array feeds the inverter: ${kw(used)} of ${kw(moment.available_kw)}.`);
  expect(feeding).toContain(`The loads receive ${kw(moment.load_kw)}.`);

  await page.getByRole('button', { name: 'Undo this' }).click();
  await goTo(page, 11);
  await soon(async () => expect(await gridSwitch(page).getAttribute('aria-checked')).toBe('false'));
  await visit.end();
});

it('two arrangements side by side each show their own moment of the same outage', async () => {
  const { days } = await desk.answer(ROW);
  const clear = days.find((day) => day.kind === 'clear')!;
  const visit = await Visit.begin(browser);
  const { page } = visit;
  await visit.open(`${desk.origin}/#/plant/${PLANT}?row=${ROW}&beside=grid-only&day=${clear.day}&at=11:20`);
  const said = page.locator('figure svg > desc');
  await soon(async () => expect(await said.count()).toBe(2));
  for (const [i, row] of [ROW, 'grid-only'].entries()) {
    const moment = momentAt(await desk.day(row, clear.day, []), 11 * HOUR_S + 1200);
    const words = (await said.nth(i).textContent()) ?? '';
    expect(words).toContain(moment.utility ? 'The grid is on' : 'The grid is down.');
    expect(words.includes('does not run')).toBe(moment.pump_on === 'nothing');
  }
  await visit.end();
});

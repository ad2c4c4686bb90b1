/** The page shows the same figures as the command line. */
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { rowName } from '../src/parts/rows';
import { copyOfExample, Desk, PLANT, printed } from './desk';
import { openBrowser, Visit } from './visit';

interface PrintedRow {
  shortage: { short_days: number; worst_days: number };
  id: string;
  array_use: number | null;
  generator: { fuel_l: number };
  water_m3: { demand: number; delivered: number };
  hours: { pumping: number; pumping_in_outage: number };
  service: { comparable: boolean };
  money: {
    currency: string;
    capital: number;
    first_year_bill: number;
    payback_years: number | null;
    npv: number;
  };
}

let browser: Browser;
let desk: Desk;
let rows: Map<string, PrintedRow>;
let fuel_price_per_l: number;

beforeAll(async () => {
  browser = await openBrowser();
  desk = await Desk.open(copyOfExample());
  const compared = JSON.parse(printed('compare', '--json', desk.folder)) as { arrangements: PrintedRow[] };
  rows = new Map(compared.arrangements.map((row) => [row.id, row]));
  fuel_price_per_l = Number(/[\d.]+/.exec(desk.line('fuel_price_per_l'))?.[0]);
});

afterAll(async () => {
  await browser.close();
  await desk.remove();
});

/** Reads a figure of the page as a number; NaN if there is none. */
const read = (text: string) =>
  Number(
    text
      .replaceAll(',', '')
      .replace('−', '-')
      .match(/-?\d+(\.\d+)?/)?.[0] ?? NaN,
  );

/** Compares a figure, shown with the given number of decimals, with the exact value. */
function holds(shown: string, exact: number, decimals: number, what: string): void {
  const step = 10 ** -decimals;
  const figure = read(shown);
  // If rounding would give 0 or 100 % for a value that is neither, the page shows a bound.
  const [least, greatest] = shown.startsWith('>')
    ? [figure, figure + step]
    : shown.startsWith('<')
      ? [figure - step, figure]
      : [figure - step / 2, figure + step / 2];
  expect(exact, `${what}: ${shown} rounds ${exact}`).toBeGreaterThanOrEqual(least - 1e-9);
  expect(exact, `${what}: ${shown} rounds ${exact}`).toBeLessThanOrEqual(greatest + 1e-9);
  const written = /\d(?:\.(\d+))?(?=\D*$)/.exec(shown)?.[1]?.length ?? 0;
  expect(written, `${what}: decimals of ${shown}`).toBe(decimals);
}

/** Compares a share in per cent; 100 % shows only if nothing is missing. */
function holdsShare(shown: string, exact_pct: number, what: string): void {
  holds(shown, exact_pct, 0, what);
  if (read(shown) === 100) expect(exact_pct, what).toBeCloseTo(100, 6);
}

const bill = (row: PrintedRow) => row.money.first_year_bill + row.generator.fuel_l * fuel_price_per_l;
const secured_pct = ({ water_m3 }: PrintedRow) => (100 * water_m3.delivered) / water_m3.demand;

describe('the five answers equal those of `daylift compare`', () => {
  for (const id of ['grid-only', 'solar-drive', 'dual-mode', 'dual-mode+generator', 'battery-hybrid']) {
    it(`for ${id}`, async () => {
      const row = rows.get(id)!;
      const today = rows.get('grid-only')!;
      const visit = await Visit.begin(browser);
      await visit.open(`${desk.origin}/#/plant/${PLANT}?row=${encodeURIComponent(id)}`);
      const { water, shortage, sun, bill: cost, payback } = await visit.answers();
      holdsShare(water.value, secured_pct(row), 'water secured');
      if (row.array_use === null) expect(sun.note).toBe('no array');
      else holdsShare(sun.value, 100 * row.array_use, 'sun used');
      expect(cost.value).toMatch(/USD( \*)?$/);
      holds(cost.value, bill(row), 0, 'bill');
      if (id === 'grid-only') {
        expect(cost.note).toBe('this is today’s way');
      } else {
        if (row.service.comparable) holds(cost.note, bill(today), 0, 'bill today');
        else expect(cost.note).toMatch(/less water|unserved/);
        for (const { value, note } of [cost, payback]) {
          expect(value.endsWith('*'), `${id}: ${value}`).toBe(!row.service.comparable);
          if (!row.service.comparable) expect(note).toBe(cost.note);
        }
        if (row.money.payback_years === null) expect(payback.value).toMatch(/^never/);
        else holds(payback.value, row.money.payback_years, 1, 'payback');
      }
      // Figures that `compare` does not print come from the same answer.
      const answer = await desk.answer(id);
      const at = answer.comparison.arrangements.findIndex((one) => one.id === id);
      const secured = answer.rows[at]!.water_secured;
      expect(shortage.value).toMatch(/m³$/);
      if (row.shortage.short_days === 0) expect(shortage.note).toBe('no day is short of water');
      else
        holds(shortage.note.split(';')[0]!, row.shortage.worst_days, 1, 'worst shortage in days of demand');
      holdsShare(water.note, 100 * secured.in_outages!, 'water in outages');
      await visit.end();
    });
  }
});

it('the table of the arrangements equals that of `daylift compare`', async () => {
  const visit = await Visit.begin(browser);
  await visit.open(`${desk.origin}/#/ways/${PLANT}`);
  const table = visit.page.getByTestId('ways');
  const cells = await table
    .locator('tbody tr')
    .evaluateAll((lines) =>
      lines.map((line) =>
        Object.fromEntries(
          [...line.querySelectorAll('td')].map((td) => [td.dataset.label ?? '', td.innerText]),
        ),
      ),
    );
  expect(cells).toHaveLength(rows.size);
  for (const [i, row] of [...rows.values()].entries()) {
    const shown = cells[i]!;
    const cell = (name: string) => {
      const found = Object.entries(shown).find(([label]) => label.startsWith(name));
      expect(found, `${row.id} has ${name}`).toBeDefined();
      return found?.[1] ?? '';
    };
    holdsShare(cell('Water secured'), secured_pct(row), `${row.id} water`);
    holds(cell('Hours pumping'), row.hours.pumping, 0, `${row.id} hours`);
    holds(cell('Pumping in outages'), row.hours.pumping_in_outage, 0, `${row.id} hours in outages`);
    if (row.array_use === null) expect(cell('Sun used')).toBe('–');
    else holdsShare(cell('Sun used'), 100 * row.array_use, `${row.id} sun`);
    holds(cell('Bill'), bill(row), 0, `${row.id} bill`);
    holds(cell('Capital'), row.money.capital, 0, `${row.id} capital`);
    if (row.id === 'grid-only') {
      expect(cell('Payback')).toBe('today');
      expect(cell('Net present value')).toBe('–');
    } else {
      for (const name of ['Bill', 'Payback', 'Net present value']) {
        expect(cell(name).endsWith('*'), `${row.id} ${name}`).toBe(!row.service.comparable);
      }
      holds(cell('Net present value'), row.money.npv, 0, `${row.id} NPV`);
      if (row.money.payback_years === null) expect(cell('Payback')).toMatch(/^never/);
      else holds(cell('Payback'), row.money.payback_years, 1, `${row.id} payback`);
    }
  }
  // This farm gives no value to what is missing, so the comparable rows are those that serve it at least as well as today.
  const served = [...rows.values()].filter((row) => row.service.comparable);
  const cheapest = served.reduce((a, b) => (bill(a) <= bill(b) ? a : b));
  const answer = await desk.answer(cheapest.id);
  const at = answer.comparison.arrangements.findIndex((row) => row.id === cheapest.id);
  const { traits } = answer.rows[at]!;
  const title = await visit.page.getByText(/at least as well as today/).innerText();
  expect(title).toBe(
    `${served.length} of ${rows.size} arrangements serve the farm at least as well as today; of these ${rowName(cheapest.id, traits)} has the lowest bill.`,
  );
  await visit.end();
});

it('the table of the cash curves has the sums of the engine, and the title names the selected arrangement', async () => {
  const visit = await Visit.begin(browser);
  await visit.open(`${desk.origin}/#/ways/${PLANT}?row=dual-mode`);
  const cash = visit.page.getByTestId('cash');
  await cash.getByText('Show as a table').click();
  const lines = await cash
    .locator('tbody tr')
    .evaluateAll((all) => all.map((line) => [...line.querySelectorAll('td')].map((td) => td.innerText)));
  const answer = await desk.answer('dual-mode');
  const others = answer.comparison.arrangements.flatMap((row, i) =>
    row.id === answer.comparison.reference ? [] : [answer.rows[i]!.cash],
  );
  expect(lines).toHaveLength(others.length);
  for (const [i, { sums }] of others.entries()) {
    expect(lines[i]).toHaveLength(answer.years + 1);
    // The cost beyond today's way is at the beginning, as in the table of the arrangements.
    holds(lines[i]!.at(0)!, sums[0]!, 0, `row ${i} when built`);
    holds(lines[i]!.at(-1)!, sums.at(-1)!, 0, `row ${i} in the end`);
  }
  const at = answer.comparison.arrangements.findIndex((row) => row.id === 'dual-mode');
  const title = await cash.getByRole('heading').innerText();
  expect(title).toContain(`Dual mode pays back in year ${answer.rows[at]!.cash.ahead_from_year};`);
  await visit.end();
});

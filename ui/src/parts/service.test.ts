import { describe, expect, it } from 'vitest';
import type { Answer, Pair, Service } from '../api/types';
import { asToday, less } from '../dev/service';
import { dualMode, solarDrive, traits } from '../dev/traits';
import { defaultFormat } from '../text/format';
import type { RowAndMore } from './rows';
import { marked, pricedAt, runnerUp, servesAsToday, serviceOf } from './service';

const row = (service: Service, delivered = 50) =>
  ({ row: { service, water_m3: { delivered } } }) as unknown as RowAndMore;
const said = (service: Service, delivered?: number) =>
  serviceOf(row(service, delivered), defaultFormat).replaceAll('\u00a0', ' ');

describe('the service', () => {
  it('says each difference from today', () => {
    expect(said(asToday)).toBe('as today');
    expect(said(less)).toBe('50 % less water');
    expect(said({ ...less, loads: 'less', load_delta_kwh: -35000 })).toBe(
      '50 % less water, 35,000 kWh less load served',
    );
    expect(
      said({ ...asToday, water: 'more', water_delta_m3: 25, loads: 'more', load_delta_kwh: 400 }, 125),
    ).toBe('25 % more water, 400 kWh more load served');
  });

  it('names the worst month where the year is not short', () => {
    expect(said({ ...less, water_delta_m3: 250 })).toMatch(/^9\.0 m³ less water in the worst month$/);
  });

  it('says that what is missing has a value', () => {
    expect(said({ ...less, comparable: true })).toBe('50 % less water, priced');
  });

  it('is less than today’s even if what is missing has a value', () => {
    expect([asToday, less, { ...less, comparable: true }].map(servesAsToday)).toEqual([true, false, false]);
    expect(servesAsToday({ ...asToday, loads: 'less', load_delta_kwh: -1 })).toBe(false);
  });

  it('marks money that is for less', () => {
    expect(marked('1 USD', asToday)).toBe('1 USD');
    expect(marked('1 USD', less)).toBe('1 USD *');
  });
});

describe('the comparison', () => {
  const of = (runner_up: Pair | null, priced_at: object | null = null) =>
    ({
      comparison: {
        runner_up,
        priced_at,
        reference: 'grid-only',
        arrangements: ['grid-only', 'solar-drive', 'dual-mode', 'grid-only+best-rule'].map((id) => ({
          id,
          money: { currency: 'USD' },
          service: asToday,
        })),
      },
      rows: [traits({ is_reference: true }), solarDrive, dualMode, traits()].map((one) => ({ traits: one })),
    }) as unknown as Answer;
  const pair = (change: Partial<Pair> = {}): Pair => ({
    of: 'dual-mode',
    against: 'solar-drive',
    capital: 8900,
    saving_per_year: 767,
    payback_years: 11.6,
    npv: 100,
    ...change,
  });
  const line = (runner_up: Pair | null) => runnerUp(of(runner_up), defaultFormat).replaceAll('\u00a0', ' ');

  it('says what the best arrangement adds to its runner-up', () => {
    expect(line(pair())).toBe(
      'Dual mode costs 8,900 USD more than Solar drive alone and saves 767 USD more a year: the difference pays back in 11.6 years.',
    );
    expect(line(pair({ saving_per_year: -5, payback_years: null }))).toBe(
      'Dual mode costs 8,900 USD more than Solar drive alone and saves no more in the first year.',
    );
    expect(line(pair({ capital: 0, payback_years: 0 }))).toBe(
      'Dual mode costs no more than Solar drive alone and saves 767 USD more a year.',
    );
    expect(
      line(pair({ of: 'grid-only+best-rule', against: 'grid-only', capital: 0, payback_years: 0 })),
    ).toBe(
      'Grid only, best pumping rule saves 767 USD a year without new equipment, and no arrangement with new equipment has a higher net present value.',
    );
    expect(line(null)).toBe(
      'Of the arrangements without a star, none has a higher net present value than Grid only.',
    );
  });

  it('names the values of what is missing', () => {
    expect(pricedAt(of(null))).toBeNull();
    expect(pricedAt(of(null, { water_per_m3: 0.4, load_per_kwh: null }))).toContain(
      'priced at 0.4 USD per m³ of water:',
    );
  });
});

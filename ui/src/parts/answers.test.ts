import { describe, expect, it } from 'vitest';
import type { Answer, Row, Traits } from '../api/types';
import { asToday, less } from '../dev/service';
import { dualMode, traits } from '../dev/traits';
import { answersOf } from './answers';
import { sunParts } from './sun-parts';

const money = {
  currency: 'USD',
  capital: 0,
  first_year_bill: 5000,
  payback_years: null,
  npv: 0,
  irr: null,
  cost_per_m3: 0,
};
const row = (id: string, change: object = {}): Row =>
  ({
    id,
    array_use: null,
    water_m3: { delivered: 1000 },
    shortage: { short_days: 0, dry_spell_days: 0, worst_m3: 0, worst_days: 0 },
    money,
    service: asToday,
    array_kwh: {
      available: 0,
      to_pump: 0,
      to_loads: 0,
      to_battery: 0,
      exported_paid: 0,
      exported_unpaid: 0,
      lost: {},
    },
    ...change,
  }) as unknown as Row;
const behind = (year: number, days: number, has: Traits) => ({
  traits: has,
  water_secured: {
    year,
    in_outages: 0.25,
    shortfall_days: days,
    longest_dry_spell_days: days,
    shortfall_m3: [],
  },
  first_year_fuel: 100,
  first_year_upkeep: 0,
});
const answer = {
  comparison: {
    reference: 'grid-only',
    arrangements: [
      row('grid-only', {
        shortage: { short_days: 1, dry_spell_days: 0, worst_m3: 24, worst_days: 0.6 },
      }),
      row('dual-mode', {
        array_use: 0.8,
        money: { ...money, capital: 26300, first_year_bill: 900, payback_years: 7.25 },
      }),
    ],
  },
  rows: [behind(0.9, 1, traits({ is_reference: true })), behind(1, 0, dualMode)],
  years: 20,
  prices: { costs: true, bill: true },
} as unknown as Answer;
const said = (id: string) =>
  answersOf(answer, id).shown.map((a) => `${a.value} | ${a.note}`.replaceAll('\u00a0', ' '));

describe('the five answers', () => {
  it('for an arrangement compare it with today', () => {
    expect(said('dual-mode')).toEqual([
      '100 % | 25 % in outages',
      '0 m³ | no day is short of water',
      '80 % | of the available energy',
      '1,000 USD | 5,100 USD today',
      '7.3 years | 26,300 USD to build',
    ]);
  });

  it('mark the money and say what is missing if the service is less', () => {
    const [today, dual] = answer.comparison.arrangements;
    const arrangements = [today, { ...dual, water_m3: { delivered: 50 }, service: less }];
    const lesser = { ...answer, comparison: { ...answer.comparison, arrangements } } as unknown as Answer;
    const shown = answersOf(lesser, 'dual-mode').shown;
    const told = shown.map((a) => `${a.value} | ${a.note}`.replaceAll('\u00a0', ' '));
    expect(told.slice(-2)).toEqual(['1,000 USD * | 50 % less water', '7.3 years * | 50 % less water']);
    expect(told.slice(0, 3).join()).not.toContain('*');
  });

  it('without prices say so instead of showing nothing or zero', () => {
    const money_of = (prices: object) =>
      answersOf({ ...answer, prices } as unknown as Answer, 'dual-mode')
        .shown.slice(3)
        .map((one) => `${one.value} | ${one.note} | ${one.working ?? '–'}`);
    const nothing = '– | no prices given | –';
    expect(money_of({ costs: false, bill: false })).toEqual([nothing, nothing]);
    expect(money_of({ costs: true, bill: false })).toEqual([nothing, nothing]);
    expect(money_of({ costs: false, bill: true })[1]).toBe(nothing);
  });

  it('for today’s way under its best rule say that there is nothing to build', () => {
    const hours = (from: number, to: number) => ({ mains_hours: [[from, to]], found: 'best' });
    const payback_of = (today: object, best: object) => {
      const arrangements = [
        row('grid-only', { rule: today }),
        row('grid-only+best-rule', { rule: best, money: { ...money, payback_years: 0 } }),
      ];
      const rows = [behind(1, 0, traits({ is_reference: true })), behind(1, 0, traits())];
      const two = {
        ...answer,
        rows,
        comparison: { ...answer.comparison, arrangements },
      } as unknown as Answer;
      const { of, shown } = answersOf(two, 'grid-only+best-rule');
      expect(of).toBe('Grid only, best pumping rule');
      return `${shown[4]?.value} | ${shown[4]?.note}`;
    };
    expect(payback_of(hours(0, 24), hours(6, 18))).toBe(
      '0.0 years | Today’s equipment with other timer and tank-level settings; nothing to build.',
    );
    expect(payback_of(hours(6, 18), hours(6, 18))).toBe(
      '– | The best rule found is today’s own: nothing to change or build.',
    );
  });

  it('for today’s way have no payback', () => {
    expect(said('grid-only').slice(1)).toEqual([
      '24 m³ | 0.6 days of demand; 1 day is short of water',
      '– | no array',
      '5,100 USD | this is today’s way',
      '– | this is today’s way',
    ]);
  });
});

describe('a row', () => {
  it('divides the sun into parts without losing any of it', () => {
    const array_kwh = {
      available: 1000,
      to_pump: 500,
      to_loads: 0,
      to_battery: 0,
      exported_paid: 300,
      exported_unpaid: 0,
      lost: { cables: 15, 'grid-down': 175, 'drive-limit': 10, 'well-limit': 0 },
    };
    const parts = sunParts(row('dual-mode', { array_kwh }));
    expect(parts.map((part) => part.key)).toEqual(['to_pump', 'exported_paid', 'grid-down', 'other']);
    expect(parts.reduce((sum, part) => sum + part.kwh, 0)).toBe(1000);
  });
});

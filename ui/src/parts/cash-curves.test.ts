import { describe, expect, it } from 'vitest';
import type { Answer, Traits } from '../api/types';
import { asToday, less } from '../dev/service';
import { batteryHybrid, dualMode, gridTied, solarDrive, traits } from '../dev/traits';
import { defaultFormat } from '../text/format';
import { apart, cashTitle, curvesOf, parted, type Curve } from './cash-curves';

const curve = (id: string, sums: number[], ahead: number | null, lacks: string | null = null): Curve => ({
  id,
  name: id,
  cash: { sums, ahead_from_year: ahead, first_year_saving: 0 },
  thing: 'ink',
  dash: 'none',
  lacks,
  currency: 'USD',
});

describe('the title of the cash curves', () => {
  const curves = [
    curve('dual', [-100, 60, 120], 2),
    curve('tied', [-10, 200, 400], 1),
    curve('thin', [-10, 500, 900], 1, '13 % less water'),
  ];
  const title = (looked: string, of = curves) => cashTitle(of, looked, 2, defaultFormat);

  it('says when the selected arrangement is paid back, and which one with all of the water is furthest ahead', () => {
    expect(title('dual')).toBe(
      'With rising prices dual pays back in year 2; after 2 years tied is furthest ahead of today’s way, by 400\u00a0USD',
    );
    expect(title('tied')).toBe(
      'With rising prices tied pays back in year 1; after 2 years it is furthest ahead of today’s way, by 400\u00a0USD',
    );
  });

  it('says what an arrangement lacks instead of when it is paid back', () => {
    expect(title('thin')).toBe(
      'thin (13 % less water) is not comparable with today’s way *; after 2 years tied is furthest ahead of today’s way, by 400\u00a0USD',
    );
    expect(title('thin', [curve('thin', [-10, 500, 900], 1, '13 % less water')])).toBe(
      'thin (13 % less water) is not comparable with today’s way *',
    );
  });

  it('does not call a loss a gain', () => {
    expect(title('dual', [curve('dual', [-100, -60, -20], null)])).toBe(
      'dual does not pay back within 2 years; after 2 years no other way is ahead of today’s',
    );
  });

  it('names the best arrangement if today’s way, which has no curve, is selected', () => {
    expect(title('today')).toMatch(/^With rising prices tied pays back/);
  });
});

describe('the curves of an answer', () => {
  const all: readonly Traits[] = [
    traits({ is_reference: true }),
    traits({ has_generator: true }),
    traits({ bigger_tank: true }),
    solarDrive,
    { ...solarDrive, wiring: 'solar-drive-with-grid', mains_on_drive: true, needs_grid: true },
    gridTied,
    { ...gridTied, has_generator: true },
    dualMode,
    { ...dualMode, has_generator: true },
    { ...dualMode, bigger_tank: true },
    batteryHybrid,
  ];
  const answer = {
    comparison: {
      reference: '0',
      arrangements: all.map((_, i) => ({
        id: String(i),
        money: { currency: 'USD' },
        water_m3: { delivered: 50 },
        service: i === 3 ? less : asToday,
      })),
    },
    rows: all.map((one) => ({
      traits: one,
      cash: { sums: [], ahead_from_year: null },
    })),
  } as unknown as Answer;
  const curves = curvesOf(answer, defaultFormat);

  it('exist for all but today’s way, distinct without colour; the selected one is a solid line', () => {
    expect(curves.map((one) => one.id)).toEqual(['1', '2', '3', '4', '5', '6', '7', '8', '9', '10']);
    expect(new Set(curves.map((one) => one.dash)).size).toBe(curves.length);
    expect(curves.find((one) => one.dash === 'none')?.id).toBe('7');
  });

  it('have the colour of their special part, and say what they lack', () => {
    const things = [
      'generator',
      'water',
      'sun',
      'sun',
      'grid',
      'generator',
      'ink',
      'generator',
      'water',
      'battery',
    ];
    expect(curves.map((one) => one.thing)).toEqual(things);
    const lacking = curves.filter((one) => one.lacks !== null);
    expect(lacking.map(({ id, lacks }) => [id, lacks])).toEqual([['3', '50\u00a0% less water']]);
  });
});

describe('curves that fall far below the others', () => {
  it('are off the chart, so that the others can be distinguished', () => {
    const all = [curve('near', [-100, -290], null), curve('far', [-50, -301], null)];
    expect(parted(all).near.map((one) => one.id)).toEqual(['near']);
    expect(parted(all).far.map((one) => one.id)).toEqual(['far']);
  });

  it('stay if the chart would be empty without them', () => {
    expect(parted([curve('far', [-50, -301], null)]).far).toEqual([]);
  });
});

describe('labels moved apart', () => {
  it('keep their order, their distance and the frame', () => {
    expect(apart([50, 52, 10], 20, 0, 100)).toEqual([50, 70, 10]);
    expect(apart([95, 96, 97], 20, 0, 100)).toEqual([60, 80, 100]);
    expect(apart([1, 40], 20, 5, 100)).toEqual([5, 40]);
  });
});

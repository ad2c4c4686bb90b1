import { describe, expect, it } from 'vitest';
import { en } from '../text/en';
import { defaultFormat } from '../text/format';
import { apart, cashTitle, parted, type Curve } from './cash-curves';

const curve = (id: string, sums: number[], ahead: number | null, thinner = false): Curve => ({
  id,
  name: id,
  cash: { sums, ahead_from_year: ahead },
  thing: 'ink',
  dash: 'none',
  thinner,
  currency: 'USD',
});

describe('the title of the cash curves', () => {
  const curves = [
    curve('dual', [-100, 60, 120], 2),
    curve('tied', [-10, 200, 400], 1),
    curve('thin', [-10, 500, 900], 1, true),
  ];
  const title = (looked: string, of = curves) => cashTitle(of, looked, 2, en, defaultFormat);

  it('says when what is looked at is paid back, and who is furthest ahead with all of the water', () => {
    expect(title('dual')).toBe(
      'With rising prices dual is paid back in year 2; after 2 years tied is furthest ahead, by 400\u00a0USD',
    );
    expect(title('tied')).toBe(
      'With rising prices tied is paid back in year 1; after 2 years it is furthest ahead, by 400\u00a0USD',
    );
  });

  it('does not call a loss a gain', () => {
    expect(title('dual', [curve('dual', [-100, -60, -20], null)])).toBe(
      'dual is not paid back within 2 years; after 2 years no other way is ahead of today’s',
    );
  });

  it('today’s way has no curve: the best one stands for it', () => {
    expect(title('today')).toMatch(/^With rising prices tied is paid back/);
  });
});

describe('curves that fall far below the others', () => {
  it('leave the picture, so that the others can be told apart', () => {
    const all = [curve('near', [-100, -290], null), curve('far', [-50, -301], null)];
    expect(parted(all).near.map((one) => one.id)).toEqual(['near']);
    expect(parted(all).far.map((one) => one.id)).toEqual(['far']);
  });

  it('stay where there would be nothing else', () => {
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

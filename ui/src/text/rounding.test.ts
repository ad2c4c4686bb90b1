import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { isWhole, rounded, roundedShare, type Write } from './rounding';

interface Case {
  value: number;
  decimals: number;
  shows: string;
}

/** The terminal is tested with the same cases. */
const cases = JSON.parse(readFileSync('../crates/present/words/rounding-cases.json', 'utf8')) as {
  numbers: Case[];
  shares: Case[];
};
const write = (decimals: number): Write =>
  new Intl.NumberFormat('en', { minimumFractionDigits: decimals, maximumFractionDigits: decimals }).format;

describe('honest rounding', () => {
  it.each(cases.numbers)('shows $value with $decimals decimals as $shows', ({ value, decimals, shows }) =>
    expect(rounded(value, decimals, write(decimals))).toBe(shows),
  );
  it.each(cases.shares)(
    'shows the share $value with $decimals decimals as $shows',
    ({ value, decimals, shows }) => expect(roundedShare(value, decimals, write(decimals))).toBe(shows),
  );
  it('distinguishes a whole share from one with something missing', () => {
    expect([1, 1 - 1e-12, 0.99999, 1.001].map(isWhole)).toEqual([true, true, false, false]);
  });
});

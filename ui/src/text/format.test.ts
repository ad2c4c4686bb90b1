import { describe, expect, it } from 'vitest';
import { makeFormat } from './format';

const plain = (text: string) => text.replaceAll('\u00a0', ' ');

describe('figures', () => {
  const { power, volume, flow } = makeFormat();
  it.each([
    [0, '0 kW'],
    [0.04, '<0.1 kW'],
    [-0.04, '>-0.1 kW'],
    [1e-10, '0 kW'],
    [0.38, '0.4 kW'],
    [8.24, '8.2 kW'],
    [14.06, '14.1 kW'],
    [99.96, '100 kW'],
    [1234, '1,230 kW'],
  ])('gives %d kW as %s', (kw, text) => expect(plain(power(kw).text)).toBe(text));

  it('keeps value and unit apart', () => expect(flow(12.34)).toMatchObject({ value: '12.3', unit: 'm³/h' }));
  it.each([
    [9.42, '9.4 m³'],
    [82.4, '82 m³'],
    [9415, '9,420 m³'],
  ])('gives %d m³ as %s', (m3, text) => expect(plain(volume(m3).text)).toBe(text));
});

describe('shares and money', () => {
  const { share, money, headline } = makeFormat();
  it.each([
    [0, '0 %'],
    [0.003, '<1 %'],
    [0.55, '55 %'],
    [0.99986, '>99 %'],
    [1, '100 %'],
  ])('gives a share of %d as %s', (of_one, text) => expect(plain(share(of_one).text)).toBe(text));
  it.each([
    [0, '0 USD'],
    [0.002, '<0.01 USD'],
    [-3.5, '-3.50 USD'],
    [12_400.4, '12,400 USD'],
  ])('gives %d USD as %s', (amount, text) => expect(plain(money(amount, 'USD').text)).toBe(text));
  it.each([
    [100, '100'],
    [99.986, '99.99'],
    [99.9986, '>99.99'],
    [98.8633, '98.86'],
  ])('gives %d %% with four figures as %s', (value, text) => expect(headline(value, '%')).toBe(text));
});

describe('units and languages', () => {
  it('divides m³/h by 3.6 for l/s', () =>
    expect(plain(makeFormat({ flow: 'l/s' }).flow(12.24).text)).toBe('3.4 l/s'));
  it('writes a decimal comma', () => expect(makeFormat({ locale: 'de' }).power(8.2).value).toBe('8,2'));
});

describe('time', () => {
  const { clock, duration } = makeFormat();
  it.each([
    [0, '00:00'],
    [37_200, '10:20'],
    [86_400, '24:00'],
  ])('reads %d s as %s', (s, text) => expect(clock(s).text).toBe(text));
  it.each([
    [0, '0 min'],
    [20, '<1 min'],
    [15_000, '4 h 10 min'],
    [7200, '2 h'],
    [3599, '1 h'],
  ])('reads a length of %d s as %s', (s, text) => expect(plain(duration(s).text)).toBe(text));
});

/** Quantities as text: with the unit after each number, rounded honestly to as many digits as make sense. */
import { isNothing, rounded, roundedShare } from './rounding';

export type FlowUnit = 'm3/h' | 'l/s';

export interface Quantity {
  value: string;
  unit: string;
  /** Value and unit, joined by a space that does not break. */
  text: string;
}

export interface Format {
  /** A round number as it is. */
  plain(value: number, unit: string): Quantity;
  power(kw: number): Quantity;
  energy(kwh: number): Quantity;
  flow(m3_h: number): Quantity;
  volume(m3: number): Quantity;
  length(m: number): Quantity;
  frequency(hz: number): Quantity;
  /** A share of 1, in per cent: `100 %` only if nothing is missing. */
  share(of_one: number): Quantity;
  /** The result of a working, with four digits and without its unit. */
  headline(value: number, unit: string): string;
  /** Money without cents, `12,400 USD`; below 10 with cents. */
  money(amount: number, currency: string): Quantity;
  /** A number of years to one decimal. */
  years(years: number): Quantity;
  /** A value of an input, as the user types it. */
  input(value: number): string;
  /** Hours of the year. */
  hours(h: number): Quantity;
  /** A civil date, `5 April`. */
  date(iso: string): string;
  /** Time of day from the seconds since midnight, `10:20`; the end of the day is `24:00`. */
  clock(s: number): Quantity;
  /** A length of time: `4 h 10 min`. */
  duration(s: number): Quantity;
}

export interface FormatOptions {
  locale?: string;
  flow?: FlowUnit;
}

const NO_BREAK = '\u00a0';

/** The format for a language and for the units that the user chose. */
export function makeFormat({ locale = 'en', flow = 'm3/h' }: FormatOptions = {}): Format {
  const tenths = new Intl.NumberFormat(locale, { maximumFractionDigits: 1, minimumFractionDigits: 1 });
  const whole = new Intl.NumberFormat(locale, { maximumFractionDigits: 0 });
  const three = new Intl.NumberFormat(locale, { maximumSignificantDigits: 3 });
  const four = new Intl.NumberFormat(locale, { maximumSignificantDigits: 4 });
  const cents = new Intl.NumberFormat(locale, { maximumFractionDigits: 2, minimumFractionDigits: 2 });
  const typed = new Intl.NumberFormat(locale, { maximumSignificantDigits: 12 });
  const dates = new Intl.DateTimeFormat(locale, { day: 'numeric', month: 'long', timeZone: 'UTC' });
  const two = new Intl.NumberFormat(locale, { minimumIntegerDigits: 2, useGrouping: false });

  const inTenths = (x: number): string => rounded(x, 1, tenths.format);
  const inWhole = (x: number): string => rounded(x, 0, whole.format);
  /** One decimal below 100, three digits from 100 on; zero is a plain 0. */
  const figures = (x: number): string => {
    if (isNothing(x)) return whole.format(0);
    return Math.abs(x) < 99.95 ? inTenths(x) : three.format(x);
  };
  const headline = (x: number, unit: string): string => {
    if (Math.abs(x) >= 1000) return whole.format(x);
    return unit === '%' && x > 99 ? roundedShare(x / 100, 2, four.format) : four.format(x);
  };
  const quantity = (value: string, unit: string): Quantity => ({
    value,
    unit,
    text: unit === '' ? value : `${value}${NO_BREAK}${unit}`,
  });

  return {
    plain: (value, unit) => quantity(new Intl.NumberFormat(locale).format(value), unit),
    power: (kw) => quantity(figures(kw), 'kW'),
    energy: (kwh) => quantity(figures(kwh), 'kWh'),
    flow: (m3_h) => (flow === 'l/s' ? quantity(figures(m3_h / 3.6), 'l/s') : quantity(figures(m3_h), 'm³/h')),
    volume: (m3) => quantity(Math.abs(m3) < 9.95 || Math.abs(m3) >= 1000 ? figures(m3) : inWhole(m3), 'm³'),
    length: (m) => quantity(inWhole(m), 'm'),
    frequency: (hz) => quantity(inWhole(hz), 'Hz'),
    share: (of_one) => quantity(roundedShare(of_one, 0, whole.format), '%'),
    money: (amount, currency) =>
      quantity(
        isNothing(amount) || Math.abs(amount) >= 10 ? whole.format(amount) : rounded(amount, 2, cents.format),
        currency,
      ),
    headline,
    years: (years) => quantity(inTenths(years), ''),
    input: (value) => typed.format(value),
    hours: (h) => quantity(inWhole(h), 'h'),
    date: (iso) => dates.format(new Date(`${iso}T12:00:00Z`)),
    clock: (s) => {
      const minutes = Math.floor(s / 60 + 1e-6);
      return quantity(`${two.format(Math.floor(minutes / 60))}:${two.format(minutes % 60)}`, '');
    },
    duration: (s) => {
      const minutes = Math.round(s / 60);
      if (minutes === 0 && !isNothing(s)) return quantity(`<1${NO_BREAK}min`, '');
      const [h, min] = [Math.floor(minutes / 60), minutes % 60];
      const parts = [h > 0 ? `${h}${NO_BREAK}h` : '', min > 0 || h === 0 ? `${min}${NO_BREAK}min` : ''];
      return quantity(parts.filter((part) => part !== '').join(NO_BREAK), '');
    },
  };
}

export const defaultFormat = makeFormat();

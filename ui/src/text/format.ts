/** Quantities as text: the unit beside each number, and no more figures than it deserves. */

export type FlowUnit = 'm3/h' | 'l/s';

export interface Quantity {
  value: string;
  unit: string;
  /** Value and unit on one line, held together by a space that does not break. */
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
  /** A share of 1, in per cent. */
  share(of_one: number): Quantity;
  /** Money without cents, `12,400 USD`; with them below 10. */
  money(amount: number, currency: string): Quantity;
  /** A count of years to one decimal. */
  years(years: number): Quantity;
  /** A value of an input, as it is typed. */
  input(value: number): string;
  /** Hours of the year. */
  hours(h: number): Quantity;
  /** A civil date, `5 April`. */
  date(iso: string): string;
  /** Time of day from the seconds since its begin, `10:20`; the end of the day is `24:00`. */
  clock(s: number): Quantity;
  /** A length of time: `4 h 10 min`. */
  duration(s: number): Quantity;
}

export interface FormatOptions {
  locale?: string;
  flow?: FlowUnit;
}

const NO_BREAK = '\u00a0';

/** The format of a language and of the units that the reader chose. */
export function makeFormat({ locale = 'en', flow = 'm3/h' }: FormatOptions = {}): Format {
  const tenths = new Intl.NumberFormat(locale, { maximumFractionDigits: 1, minimumFractionDigits: 1 });
  const whole = new Intl.NumberFormat(locale, { maximumFractionDigits: 0 });
  const three = new Intl.NumberFormat(locale, { maximumSignificantDigits: 3 });
  const cents = new Intl.NumberFormat(locale, { maximumFractionDigits: 2, minimumFractionDigits: 2 });
  const typed = new Intl.NumberFormat(locale, { maximumSignificantDigits: 12 });
  const dates = new Intl.DateTimeFormat(locale, { day: 'numeric', month: 'long', timeZone: 'UTC' });
  const two = new Intl.NumberFormat(locale, { minimumIntegerDigits: 2, useGrouping: false });

  /** One decimal below 100, three figures from there on; what rounds to nothing is a plain 0. */
  const figures = (x: number): string => {
    const size = Math.abs(x);
    if (size < 0.05) return whole.format(0);
    return size < 99.95 ? tenths.format(x) : three.format(x);
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
    volume: (m3) =>
      quantity(Math.abs(m3) < 9.95 || Math.abs(m3) >= 1000 ? figures(m3) : whole.format(m3), 'm³'),
    length: (m) => quantity(whole.format(m), 'm'),
    frequency: (hz) => quantity(whole.format(hz), 'Hz'),
    share: (of_one) => quantity(whole.format(100 * of_one), '%'),
    money: (amount, currency) =>
      quantity(
        Math.abs(amount) > 0 && Math.abs(amount) < 10 ? cents.format(amount) : whole.format(amount),
        currency,
      ),
    years: (years) => quantity(tenths.format(years), ''),
    input: (value) => typed.format(value),
    hours: (h) => quantity(whole.format(h), 'h'),
    date: (iso) => dates.format(new Date(`${iso}T12:00:00Z`)),
    clock: (s) => {
      const minutes = Math.floor(s / 60 + 1e-6);
      return quantity(`${two.format(Math.floor(minutes / 60))}:${two.format(minutes % 60)}`, '');
    },
    duration: (s) => {
      const minutes = Math.round(s / 60);
      const [h, min] = [Math.floor(minutes / 60), minutes % 60];
      const parts = [h > 0 ? `${h}${NO_BREAK}h` : '', min > 0 || h === 0 ? `${min}${NO_BREAK}min` : ''];
      return quantity(parts.filter((part) => part !== '').join(NO_BREAK), '');
    },
  };
}

export const defaultFormat = makeFormat();

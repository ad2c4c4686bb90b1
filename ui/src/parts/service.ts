/** What an arrangement delivers compared with today's way, in words, and the mark of money that is for less. */
import type { Answer, Pair, Service } from '../api/types';
import type { Format } from '../text/format';
import { say } from '../text/words';
import { isUnderBestRule, rowName, rowOf, type RowAndMore } from './rows';

/** Within this share of today's water of the year, only a month is short; as in the engine. */
const TOLERANCE = 0.01;

/** A money figure, marked with a star if it is for less service than today's. */
export const marked = (figure: string, service: Service): string =>
  service.comparable ? figure : `${figure} *`;

/** The service in a few words: `as today`, or each difference. */
export function serviceOf({ row }: RowAndMore, format: Format): string {
  const { service } = row;
  const delta_m3 = service.water_delta_m3;
  const today_m3 = row.water_m3.delivered - delta_m3;
  const share = today_m3 > 0 ? format.share(Math.abs(delta_m3) / today_m3).text : '–';
  const kwh = format.plain(Math.round(Math.abs(service.load_delta_kwh)), '').value;
  const water =
    service.water === 'less'
      ? -delta_m3 > TOLERANCE * today_m3
        ? say('service-less-water', { share })
        : say('service-less-in-month', { m3: format.volume(-service.worst_month_delta_m3).value })
      : service.water === 'more' && say('service-more-water', { share });
  const loads =
    service.loads === 'less'
      ? say('service-less-loads', { kwh })
      : service.loads === 'more' && say('service-more-loads', { kwh });
  const isLess = service.water === 'less' || service.loads === 'less';
  const priced = isLess && service.comparable && say('service-priced');
  const parts = [water, loads, priced].filter((part) => part !== false);
  return parts.length === 0 ? say('service-as-today') : parts.join(', ');
}

/** Whether it delivers at least what today's way does, whatever value is given to what is missing. */
export const servesAsToday = ({ water, loads }: Service): boolean => water !== 'less' && loads !== 'less';

/** What the best arrangement adds to its runner-up, in a sentence. */
export function runnerUp(answer: Answer, format: Format): string {
  const pair: Pair | null = answer.comparison.runner_up;
  const name = (id: string) => {
    const one = rowOf(answer, id);
    return one ? rowName(one.row.id, one.behind.traits) : id;
  };
  if (!pair) return say('ways-none-pays', { today: name(answer.comparison.reference) });
  const currency = answer.comparison.arrangements[0]?.money.currency ?? '';
  const money = (amount: number) => format.money(Math.abs(amount), currency).text;
  const of = name(pair.of);
  const against = name(pair.against);
  const capital = money(pair.capital);
  const saving = money(pair.saving_per_year);
  if (pair.payback_years === null) {
    return pair.capital > 0
      ? say('runner-up-never', { of, against, capital })
      : say('runner-up-cheaper', { of, against, capital, cost: saving });
  }
  if (isUnderBestRule(pair.of) && pair.capital <= 0) return say('runner-up-rule', { of, saving });
  if (pair.capital <= 0) return say('runner-up-free', { of, against, saving });
  const years = format.years(pair.payback_years).text;
  return say('runner-up', { of, against, capital, saving, years });
}

/** Capital and payback of the best arrangement; empty where the runner-up is today's way, or where nothing is built. */
export function capitalOfBest(
  { comparison: { runner_up, reference, arrangements } }: Answer,
  format: Format,
): string {
  const best = arrangements.find(({ id }) => id === runner_up?.of);
  if (!best || runner_up?.against === reference) return '';
  const { capital, payback_years, currency } = best.money;
  if (capital <= 0 || payback_years === null) return '';
  return say('worth-most-capital', {
    capital: format.money(capital, currency).text,
    years: format.years(payback_years).text,
  });
}

/** The values of what is missing, if the plant gives them and the money includes them. */
export function pricedAt(answer: Answer): string | null {
  const values = answer.comparison.priced_at;
  if (!values) return null;
  const currency = answer.comparison.arrangements[0]?.money.currency ?? '';
  const parts = [
    values.water_per_m3 !== null && say('priced-water', { value: String(values.water_per_m3), currency }),
    values.load_per_kwh !== null && say('priced-load', { value: String(values.load_per_kwh), currency }),
  ];
  const all = answer.comparison.arrangements.every((row) => row.service.comparable);
  const text = parts.filter((part) => part !== false).join(', ');
  return say(all ? 'priced-at-all' : 'priced-at', { values: text });
}

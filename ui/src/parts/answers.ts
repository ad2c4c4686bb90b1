/** The five answers for an arrangement, as text. */
import type { Answer } from '../api/types';
import { defaultFormat, type Format } from '../text/format';
import { say } from '../text/words';
import { rowName, rowOf, type RowAndMore } from './rows';
import { changeOfRule, isTodaysRule } from './rule';
import { marked, serviceOf } from './service';

export interface Shown {
  key: 'water' | 'shortage' | 'sun' | 'bill' | 'payback';
  name: string;
  value: string;
  note: string;
  /** Name of its working; null if it has none. */
  working: string | null;
}

/** What the farm pays for energy in the first year. */
export const energyCost = ({ row, behind }: RowAndMore): number =>
  row.money.first_year_bill + behind.first_year_fuel;

export function answersOf(
  answer: Answer,
  id: string,
  format: Format = defaultFormat,
): { of: string; shown: Shown[] } {
  const here = rowOf(answer, id);
  const today = rowOf(answer, answer.comparison.reference);
  if (!here || !today) return { of: '', shown: [] };
  const { row, behind } = here;
  const { water_secured: water } = behind;
  const { shortage } = row;
  const short = say('answers-short-days', { days: shortage.short_days });
  const { currency } = row.money;
  const share = (of_one: number | null, none: string) => (of_one === null ? none : format.share(of_one).text);
  const isToday = behind.traits.is_reference;
  const payback = row.money.payback_years;
  const { prices } = answer;
  const compared = prices.costs && prices.bill;
  const lacks = row.service.comparable ? null : serviceOf(here, format);
  return {
    of: rowName(row.id, behind.traits),
    shown: [
      {
        key: 'water',
        name: say('answer-water'),
        value: share(water.year, '–'),
        note:
          water.in_outages === null
            ? say('answers-no-outages')
            : say('answers-in-outages', { share: share(water.in_outages, '–') }),
        working: 'water-secured',
      },
      {
        key: 'shortage',
        name: say('answer-shortage'),
        value: format.volume(shortage.worst_m3).text,
        note:
          shortage.short_days === 0
            ? short
            : say('answers-shortage-note', { days: format.years(shortage.worst_days).text, short }),
        working: shortage.short_days === 0 ? null : 'worst-shortage',
      },
      {
        key: 'sun',
        name: say('answer-sun'),
        value: share(row.array_use, '–'),
        note: row.array_use === null ? say('answers-no-array') : say('answers-sun-note'),
        working: row.array_use === null ? null : 'array-use',
      },
      {
        key: 'bill',
        name: say('answer-bill'),
        value: prices.bill ? marked(format.money(energyCost(here), currency).text, row.service) : '–',
        note: !prices.bill
          ? say('answers-no-prices')
          : isToday
            ? say('answers-is-today')
            : (lacks ?? say('answers-before', { money: format.money(energyCost(today), currency).text })),
        working: prices.bill ? 'first-year-bill' : null,
      },
      {
        key: 'payback',
        name: say('answer-payback'),
        value:
          isToday || !compared || isTodaysRule(answer, here)
            ? '–'
            : marked(
                payback === null
                  ? say('answers-never')
                  : say('answers-years', { years: format.years(payback).text }),
                row.service,
              ),
        note: isToday
          ? say('answers-is-today')
          : !compared
            ? say('answers-no-prices')
            : (lacks ??
              changeOfRule(answer, here) ??
              say('answers-capital', { money: format.money(row.money.capital, currency).text })),
        working: isToday || !compared ? null : 'payback',
      },
    ],
  };
}

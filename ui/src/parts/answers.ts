/** The five answers of an arrangement, as they are shown. */
import type { Answer, Behind, Row } from '../api/types';
import { en, type Text } from '../text/en';
import { defaultFormat, type Format } from '../text/format';
import { rowName } from './rows';

export interface Shown {
  key: 'water' | 'dry' | 'sun' | 'bill' | 'payback';
  name: string;
  value: string;
  note: string;
  /** Name of its working; null when it has none. */
  working: string | null;
}

export interface RowAndMore {
  row: Row;
  behind: Behind;
}

/** A row of the answer with what stands behind it; the first when there is no row of that name. */
export function rowOf(answer: Answer, id: string): RowAndMore | undefined {
  const at = answer.comparison.arrangements.findIndex((row) => row.id === id);
  const [row, behind] = [answer.comparison.arrangements[Math.max(0, at)], answer.rows[Math.max(0, at)]];
  return row && behind ? { row, behind } : undefined;
}

/** What leaves the farm's purse in the first year for energy. */
export const energyCost = ({ row, behind }: RowAndMore): number =>
  row.money.first_year_bill + behind.first_year_fuel;

/** The row that is looked at when nobody has chosen: the one that shares the array, else the last without extras. */
export function usualRow(answer: Answer): string {
  const ids = answer.comparison.arrangements.map((row) => row.id);
  return ids.find((id) => id === 'dual-mode') ?? ids.filter((id) => !id.includes('+')).at(-1) ?? ids[0] ?? '';
}

export function answersOf(
  answer: Answer,
  id: string,
  text: Text = en,
  format: Format = defaultFormat,
): { of: string; shown: Shown[] } {
  const here = rowOf(answer, id);
  const today = rowOf(answer, answer.comparison.reference);
  if (!here || !today) return { of: '', shown: [] };
  const say = text.answers;
  const { row, behind } = here;
  const { water_secured: water } = behind;
  const { currency } = row.money;
  const share = (of_one: number | null, none: string) => (of_one === null ? none : format.share(of_one).text);
  const isToday = row.id === today.row.id;
  const thinner = row.water_m3.delivered < 0.99 * today.row.water_m3.delivered;
  const payback = row.money.payback_years;
  return {
    of: rowName(row.id, text),
    shown: [
      {
        key: 'water',
        name: say.water,
        value: share(water.year, '–'),
        note: water.in_outages === null ? say.noOutages : say.waterInOutages(share(water.in_outages, '–')),
        working: 'water-secured',
      },
      {
        key: 'dry',
        name: say.dry,
        value: say.days(water.longest_dry_spell_days),
        note: say.shortDays(water.shortfall_days),
        working: null,
      },
      {
        key: 'sun',
        name: say.sun,
        value: share(row.array_use, '–'),
        note: row.array_use === null ? say.noArray : say.sunNote,
        working: row.array_use === null ? null : 'array-use',
      },
      {
        key: 'bill',
        name: say.bill,
        value: format.money(energyCost(here), currency).text,
        note: isToday ? say.isToday : say.before(format.money(energyCost(today), currency).text),
        working: 'first-year-bill',
      },
      {
        key: 'payback',
        name: say.payback,
        value: isToday ? '–' : payback === null ? say.never : say.years(format.years(payback).text),
        note: isToday
          ? say.isToday
          : thinner
            ? say.notSame
            : say.capital(format.money(row.money.capital, currency).text),
        working: isToday ? null : 'payback',
      },
    ],
  };
}

/** The cumulative cash of the arrangements, year by year: the curves and their title. */
import type { Answer, Cash, Traits } from '../api/types';
import type { Format } from '../text/format';
import { say } from '../text/words';
import type { Thing } from './flows';
import { rowName, rowsOf, usualRow } from './rows';
import { serviceOf } from './service';

export interface Curve {
  id: string;
  name: string;
  cash: Cash;
  /** The meaning of the colour: a part that only this kind of arrangement has. */
  thing: Thing | 'ink';
  dash: string;
  /** What it lacks if it serves less than today's way, so that its cash is not comparable; else null. */
  lacks: string | null;
  currency: string;
}

/** Strokes and gaps, in px. All differ, so that curves can be distinguished in grey, too. */
const DASHES = [
  'none',
  '9 4',
  '2 3',
  '12 3 2 3',
  '5 3',
  '12 3 2 3 2 3',
  '18 5',
  '1 5',
  '3 2 3 9',
  '9 3 9 3 2 3',
  '3 8',
  '22 3 6 3',
  '6 6',
  '15 3 2 3 6 3',
  '2 8 2 3',
  '26 9',
] as const;

/** A part that only this kind of arrangement has. */
function thingOf(traits: Traits): Curve['thing'] {
  if (traits.has_generator) return 'generator';
  if (traits.bigger_tank) return 'water';
  if (traits.has_battery) return 'battery';
  if (traits.has_drive) return traits.has_inverter ? 'ink' : 'sun';
  return 'grid';
}

/**
 * The curves of all arrangements but today's way, which is the zero line. The selected one comes first, as a solid line;
 * the others have dashes by their places in the answer.
 */
export function curvesOf(answer: Answer, format: Format): Curve[] {
  const rows = rowsOf(answer).filter(({ behind }) => !behind.traits.is_reference);
  const usual = usualRow(answer);
  const dashed = [...rows].sort((a, b) => Number(b.row.id === usual) - Number(a.row.id === usual));
  return rows.map((one): Curve => {
    const { row, behind } = one;
    return {
      id: row.id,
      name: rowName(row.id, behind.traits),
      cash: behind.cash,
      thing: thingOf(behind.traits),
      dash: DASHES[dashed.indexOf(one) % DASHES.length] ?? 'none',
      lacks: row.service.comparable ? null : serviceOf(one, format),
      currency: row.money.currency,
    };
  });
}

/** A curve that ends this many times the highest capital cost below zero would flatten all others. */
const FAR = 3;

/** The curves that fit into the chart, and those that fall below it. */
export function parted(curves: readonly Curve[]): { near: Curve[]; far: Curve[] } {
  const floor = FAR * Math.min(0, ...curves.map((curve) => curve.cash.sums[0] ?? 0));
  const far = curves.filter((curve) => floor < 0 && last(curve) < floor);
  return far.length < curves.length
    ? { near: curves.filter((curve) => !far.includes(curve)), far }
    : { near: [...curves], far: [] };
}

const last = (curve: Curve): number => curve.cash.sums.at(-1) ?? 0;

/** The title: when the selected arrangement is paid back, and which one is furthest ahead in the end. */
export function cashTitle(curves: readonly Curve[], looked: string, years: number, format: Format): string {
  const best = [...curves].filter((curve) => curve.lacks === null).sort((a, b) => last(b) - last(a))[0];
  const here = curves.find((curve) => curve.id === looked) ?? best;
  if (!here) return '';
  if (here.lacks !== null) {
    const lesser = say('cash-lesser', { row: here.name, lacks: here.lacks });
    return best ? `${lesser}; ${inTheEnd(best, here, years, format)}` : lesser;
  }
  if (!best) return '';
  const year = here.cash.ahead_from_year ?? null;
  const first =
    year === null
      ? say('cash-never', { row: here.name, years })
      : year === 0
        ? say('cash-at-once', { row: here.name })
        : say('cash-paid-back', { row: here.name, year });
  return `${first}; ${inTheEnd(best, here, years, format)}`;
}

/** Which comparable arrangement is furthest ahead in the end. */
function inTheEnd(best: Curve, here: Curve, years: number, format: Format): string {
  if (last(best) <= 0) return say('cash-none', { years });
  // More digits would be false precision twenty years ahead.
  const amount = format.money(Number(last(best).toPrecision(2)), best.currency).text;
  return best === here
    ? say('cash-itself', { years, amount })
    : say('cash-best', { years, row: best.name, amount });
}

/** Moves labels apart so that none overlaps another. Their order stays, and they stay between top and bottom. */
export function apart(wanted: readonly number[], height: number, top: number, foot: number): number[] {
  const order = wanted.map((_, i) => i).sort((a, b) => (wanted[a] ?? 0) - (wanted[b] ?? 0));
  const at = [...wanted];
  let free = top;
  for (const i of order) {
    at[i] = Math.max(wanted[i] ?? 0, free);
    free = (at[i] ?? 0) + height;
  }
  let most = foot;
  for (const i of [...order].reverse()) {
    at[i] = Math.min(at[i] ?? 0, most);
    most = (at[i] ?? 0) - height;
  }
  return at;
}

/** Cash of the arrangements added up year by year: what is drawn, and what its title says. */
import type { Answer, Cash } from '../api/types';
import type { Text } from '../text/en';
import type { Format } from '../text/format';
import type { Thing } from './flows';
import { rowOf } from './answers';
import { rowName } from './rows';

export interface Curve {
  id: string;
  name: string;
  cash: Cash;
  /** What the colour stands for: what the arrangement has that others have not. */
  thing: Thing | 'ink';
  dash: string;
  /** It delivers less water than today's way: its cash is not that of the same service. */
  thinner: boolean;
  currency: string;
}

const WIRINGS: Record<string, { thing: Curve['thing']; dash: string }> = {
  'solar-drive': { thing: 'sun', dash: 'none' },
  'solar-drive-with-grid': { thing: 'sun', dash: '9 4' },
  'grid-tied': { thing: 'grid', dash: '10 3' },
  'dual-mode': { thing: 'ink', dash: 'none' },
  'battery-hybrid': { thing: 'battery', dash: '6 3 1.5 3' },
  'grid-only': { thing: 'grid', dash: '2 2' },
};
const WITH_GENERATOR: Record<string, string> = {
  'grid-only': '3 3',
  'grid-tied': '3 6',
  'dual-mode': '8 3 3 3',
};
/** Water below this share of today's is less. */
const LESS_WATER = 0.99;

/** The curves of all arrangements but today's, which is the line of nothing. */
export function curvesOf(answer: Answer, text: Text): Curve[] {
  const today = rowOf(answer, answer.comparison.reference);
  return answer.comparison.arrangements.flatMap((row, i): Curve[] => {
    const behind = answer.rows[i];
    if (!behind || row.id === answer.comparison.reference) return [];
    const [wiring = '', ...beside] = row.id.split('+');
    const own = WIRINGS[wiring] ?? { thing: 'ink', dash: 'none' };
    const generator = beside.includes('generator');
    const night = beside.includes('night-tank');
    return [
      {
        id: row.id,
        name: rowName(row.id, text),
        cash: behind.cash,
        thing: generator ? 'generator' : night ? 'water' : own.thing,
        dash: night
          ? generator
            ? '1 4'
            : '12 3 1.5 3'
          : generator
            ? (WITH_GENERATOR[wiring] ?? '3 3')
            : own.dash,
        thinner: row.water_m3.delivered < LESS_WATER * (today?.row.water_m3.delivered ?? 0),
        currency: row.money.currency,
      },
    ];
  });
}

/** A curve that ends this many times below the dearest plant's cost would press all others flat. */
const FAR = 3;

/** The curves that the picture is made for, and those that leave it at its foot. */
export function parted(curves: readonly Curve[]): { near: Curve[]; far: Curve[] } {
  const floor = FAR * Math.min(0, ...curves.map((curve) => curve.cash.sums[0] ?? 0));
  const far = curves.filter((curve) => floor < 0 && last(curve) < floor);
  return far.length < curves.length
    ? { near: curves.filter((curve) => !far.includes(curve)), far }
    : { near: [...curves], far: [] };
}

const last = (curve: Curve): number => curve.cash.sums.at(-1) ?? 0;

/** What is seen: when the arrangement that is looked at is paid back, and who is furthest ahead in the end. */
export function cashTitle(
  curves: readonly Curve[],
  looked: string,
  years: number,
  text: Text,
  format: Format,
): string {
  const say = text.cash;
  const best = [...curves].filter((curve) => !curve.thinner).sort((a, b) => last(b) - last(a))[0];
  const here = curves.find((curve) => curve.id === looked) ?? best;
  if (!here || !best) return '';
  const year = here.cash.ahead_from_year ?? null;
  const first =
    year === null
      ? say.never(here.name, years)
      : year === 0
        ? say.atOnce(here.name)
        : say.paidBack(here.name, year);
  // Twenty years ahead more figures would promise too much.
  const amount = format.money(Number(Math.abs(last(best)).toPrecision(2)), best.currency).text;
  if (last(best) <= 0) return `${first}; ${say.none(years)}`;
  return `${first}; ${best === here ? say.itself(years, amount) : say.best(years, best.name, amount)}`;
}

/** Heights of labels moved apart so that none lies on another; their order stays, and they stay between top and foot. */
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

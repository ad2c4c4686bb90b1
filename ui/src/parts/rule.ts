/** The rule by which the pumps of an arrangement run on mains, in words. */
import type { Answer, Rule } from '../api/types';
import type { Format } from '../text/format';
import { say } from '../text/words';
import { isUnderBestRule, rowOf, type RowAndMore } from './rows';

/** The rule in one line; null if no pump uses mains or another bus. */
export function ruleOf({ row: { rule } }: RowAndMore, format: Format): string | null {
  if (!rule) return null;
  const whole = (pct: number) => format.plain(Math.round(pct), '%');
  const [least, most] = [Math.min(...rule.mains_fill_pct), Math.max(...rule.mains_fill_pct)];
  const hours = hoursOf(rule);
  const fill = least < most ? `${whole(least).value}–${whole(most).text}` : whole(most).text;
  const low = whole(rule.low_mark_pct).text;
  const { surplus_pct } = rule;
  const found = foundIn(rule);
  return surplus_pct === null
    ? say('pumping-rule', { hours, fill, low, found })
    : say('pumping-rule-surplus', { hours, fill, low, found, surplus: whole(surplus_pct).text });
}

/** Where the rule came from. */
function foundIn({ found, from_file }: Rule): string {
  if (found === 'as-written') return say('pumping-as-written');
  const searched = found === 'best' ? say('pumping-best') : say('pumping-wettest');
  const parts = from_file.map(partOf).join(', ');
  return parts === '' ? searched : say('pumping-beside', { parts, found: searched });
}

/** A part of a rule, by its key in the plant file. */
function partOf(key: string): string {
  switch (key) {
    case 'mains_hours':
      return say('rule-part-mains_hours');
    case 'mains_fill_pct':
      return say('rule-part-mains_fill_pct');
    case 'low_mark_pct':
      return say('rule-part-low_mark_pct');
    case 'surplus_pct':
      return say('rule-part-surplus_pct');
    default:
      return key;
  }
}

/** Windows of hours: `22:00–6:00, 10:00–15:00`. */
function hoursOf({ mains_hours }: Rule): string {
  const windows = mains_hours.map(([from, to]) => `${from}:00–${to}:00`).join(', ');
  return windows === '0:00–24:00' ? say('pumping-all-hours') : windows;
}

/** Whether two rules are the same, whatever they come from. */
function areSame(one: Rule | null, other: Rule | null): boolean {
  const settings = (rule: Rule | null) => rule && JSON.stringify({ ...rule, found: '' });
  return settings(one) === settings(other);
}

/** Whether a row is today's way under its best rule, and that rule is today's own. */
export function isTodaysRule(answer: Answer, { row }: RowAndMore): boolean {
  const today = rowOf(answer, answer.comparison.reference)?.row.rule ?? null;
  return isUnderBestRule(row.id) && areSame(row.rule, today);
}

/** How today's way under its best rule differs from today; null for any other arrangement. */
export function changeOfRule(answer: Answer, one: RowAndMore): string | null {
  if (!isUnderBestRule(one.row.id)) return null;
  return isTodaysRule(answer, one) ? say('pumping-same') : say('pumping-other');
}

import { describe, expect, it } from 'vitest';
import type { Answer, Rule } from '../api/types';
import { asToday } from '../dev/service';
import { dualMode, traits } from '../dev/traits';
import { defaultFormat } from '../text/format';
import { rowOf, type RowAndMore } from './rows';
import { changeOfRule, isTodaysRule, ruleOf } from './rule';

const rule = (change: Partial<Rule> = {}): Rule => ({
  mains_hours: [[22, 17]],
  mains_fill_pct: [100],
  low_mark_pct: 40,
  surplus_pct: null,
  found: 'as-written',
  from_file: [],
  ...change,
});
const said = (of: Rule | null) =>
  ruleOf({ row: { rule: of } } as unknown as RowAndMore, defaultFormat)?.replaceAll('\u00a0', ' ');

describe('the rule of pumping on mains', () => {
  it('is a line with its source', () => {
    expect(said(rule())).toBe('22:00–17:00, fills to 100 %, below 40 % at any hour (as in the plant file)');
    expect(
      said(
        rule({ mains_hours: [[0, 24]], mains_fill_pct: [50], found: 'wettest', from_file: ['low_mark_pct'] }),
      ),
    ).toBe(
      'all hours, fills to 50 %, below 40 % at any hour (low level from the plant file; no rule keeps today’s water; this one delivers most)',
    );
  });

  it('may have two windows, a level for each hour, and a share of surplus', () => {
    const hourly = Array.from({ length: 24 }, (_, hour) => (hour < 12 ? 60 : 100));
    const windows: [number, number][] = [
      [10, 15],
      [22, 6],
    ];
    expect(said(rule({ mains_hours: windows, mains_fill_pct: hourly, surplus_pct: 70, found: 'best' }))).toBe(
      '10:00–15:00, 22:00–6:00, fills to 60–100 %, below 40 % at any hour, otherwise when inverters offer 70 % of the power (best rule found)',
    );
  });

  it('does not exist where no pump uses mains', () => {
    expect(said(null)).toBeUndefined();
  });
});

describe('today’s way under its best rule', () => {
  const answerOf = (best: Rule) =>
    ({
      comparison: {
        reference: 'grid-only',
        arrangements: [
          { id: 'grid-only', rule: rule(), service: asToday },
          { id: 'grid-only+best-rule', rule: best, service: asToday },
          { id: 'dual-mode', rule: rule({ found: 'best' }), service: asToday },
        ],
      },
      rows: [traits({ is_reference: true }), traits(), dualMode].map((one) => ({ traits: one })),
    }) as unknown as Answer;
  const change = (answer: Answer, id: string) => changeOfRule(answer, rowOf(answer, id)!);

  it('needs only other settings', () => {
    const answer = answerOf(rule({ mains_hours: [[6, 18]], found: 'best' }));
    expect(change(answer, 'grid-only+best-rule')).toMatch(
      /other timer and tank-level settings; nothing to build/,
    );
    expect(isTodaysRule(answer, rowOf(answer, 'grid-only+best-rule')!)).toBe(false);
  });

  it('may be today’s own rule', () => {
    const answer = answerOf(rule({ found: 'best' }));
    expect(change(answer, 'grid-only+best-rule')).toMatch(/today’s own/);
    expect(isTodaysRule(answer, rowOf(answer, 'grid-only+best-rule')!)).toBe(true);
  });

  it('is the only arrangement with such a note', () => {
    const answer = answerOf(rule());
    expect([change(answer, 'grid-only'), change(answer, 'dual-mode')]).toEqual([null, null]);
    expect(isTodaysRule(answer, rowOf(answer, 'dual-mode')!)).toBe(false);
  });
});

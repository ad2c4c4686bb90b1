import { describe, expect, it } from 'vitest';
import type { Answer, Traits } from '../api/types';
import { asToday, less } from '../dev/service';
import { batteryHybrid, dualMode, gridTied, solarDrive, traits } from '../dev/traits';
import { rowName, rowOf, usualRow } from './rows';

/** An answer whose rows have only ids, traits and services; those named serve less than today. */
const answerOf = (rows: Record<string, Traits>, lesser: string[] = []): Answer =>
  ({
    comparison: {
      reference: Object.keys(rows)[0],
      arrangements: Object.keys(rows).map((id) => ({ id, service: lesser.includes(id) ? less : asToday })),
    },
    rows: Object.values(rows).map((one) => ({ traits: one })),
  }) as unknown as Answer;

const answer = answerOf({
  'grid-only': traits({ is_reference: true }),
  'grid-only+generator+night-tank': traits({ has_generator: true, bigger_tank: true }),
  'solar-drive': solarDrive,
  'grid-tied': gridTied,
  'dual-mode': dualMode,
  'dual-mode+generator': { ...dualMode, has_generator: true },
  'battery-hybrid': batteryHybrid,
});

describe('a row', () => {
  it('has a name in words', () => {
    expect(
      rowName('grid-only+generator+night-tank', traits({ has_generator: true, bigger_tank: true })),
    ).toBe('Grid only + generator + bigger tank filled at night');
    expect(rowName('solar-drive', solarDrive)).toBe('Solar drive alone');
    expect(rowName('grid-only+best-rule', traits())).toBe('Grid only, best pumping rule');
  });

  it('is found by its id; the first row is used for an unknown id', () => {
    expect(rowOf(answer, 'dual-mode')?.behind.traits).toEqual(dualMode);
    expect(rowOf(answer, 'no-such-row')?.row.id).toBe('grid-only');
  });
});

describe('the row to show first', () => {
  it('shares the array between drive and inverter', () => {
    expect(usualRow(answer)).toBe('dual-mode');
  });

  it('serves the farm no worse than today, if one of these does', () => {
    const rows = { 'grid-only': traits(), 'dual-mode': dualMode };
    const all = { ...rows, 'dual-mode+generator': { ...dualMode, has_generator: true } };
    expect(usualRow(answerOf(all, ['dual-mode']))).toBe('dual-mode+generator');
    expect(usualRow(answerOf(rows, ['dual-mode']))).toBe('dual-mode');
  });

  it('is otherwise the last without extras', () => {
    const without = { 'grid-only': traits(), 'grid-tied': gridTied };
    expect(
      usualRow(answerOf({ ...without, 'grid-tied+generator': { ...gridTied, has_generator: true } })),
    ).toBe('grid-tied');
    expect(usualRow(answerOf({ 'grid-only': traits(), 'grid-only+best-rule': traits() }))).toBe('grid-only');
    expect(usualRow(answerOf({ 'grid-only+night-tank': traits({ bigger_tank: true }) }))).toBe(
      'grid-only+night-tank',
    );
  });
});

import { describe, expect, it } from 'vitest';
import { dualMode } from '../dev/traits';
import type { Day, Moment, Picture } from '../api/types';
import { dayTitle, gridAt, momentAt, outages, tankAt } from './day-in-words';

type Stretch = [minutes: number, utility: boolean, pump: Moment['pump_on'], tank_m3?: number];

/** A day made of periods from midnight on; a pump that runs takes 5 kW of the array. */
function dayOf(...stretches: Stretch[]): Day {
  let start_s = 0;
  const moments = stretches.map(([minutes, utility, pump_on, tank_m3 = 50]) => {
    const array_to_pump_kw = pump_on === 'nothing' ? 0 : 5;
    const zero = { grid_to_pump_kw: 0, battery_to_pump_kw: 0, generator_to_pump_kw: 0 };
    const m = {
      start_s,
      length_s: minutes * 60,
      utility,
      pump_on,
      array_to_pump_kw,
      tank_m3,
      ...zero,
    } as Moment;
    start_s += m.length_s;
    return m;
  });
  return {
    arrangement: 'dual-mode',
    traits: dualMode,
    day: 0,
    date: '2025-01-01',
    month: 0,
    picture: {} as Picture,
    length_s: start_s,
    is_short: false,
    moments,
    tank_at_begin_m3: 40,
  };
}

const title = (...stretches: Stretch[]) => dayTitle(dayOf(...stretches)).replaceAll('\u00a0', ' ');

describe('the title of a day', () => {
  it('counts running time on a day without an outage', () => {
    expect(title([1191, true, 'nothing'], [249, true, 'bus'])).toBe('The pump runs 4 h 9 min on this day');
  });
  it('counts idle time if water is short', () => {
    const day = { ...dayOf([250, true, 'nothing'], [1190, true, 'bus']), is_short: true };
    expect(dayTitle(day).replaceAll('\u00a0', ' ')).toBe(
      'On this day the pump does not run for 4 h 10 min, and water is short',
    );
  });
  it('counts idle time during outages only', () => {
    expect(
      title([300, true, 'nothing'], [120, false, 'drive'], [50, false, 'nothing'], [970, true, 'bus']),
    ).toBe('On this day the grid is down for 2 h 50 min; for 50 min of that time the pump does not run');
  });
  it('says when the pump runs through an outage, and when it does not', () => {
    expect(title([600, true, 'bus'], [60, false, 'drive'], [780, true, 'bus'])).toContain(
      'the pump runs all that time',
    );
    expect(title([600, true, 'bus'], [60, false, 'nothing'], [780, true, 'bus'])).toContain(
      'the pump does not run in that time',
    );
  });
  it('does not mention outages if there is no grid', () => {
    expect(title([700, false, 'nothing'], [740, false, 'drive'])).toBe(
      'The pump runs 12 h 20 min on this day',
    );
  });
  it('distinguishes a day of rest from a day of work', () => {
    expect(title([1440, true, 'nothing'])).toBe('The pump does not run on this day');
    expect(title([1440, true, 'bus'])).toBe('The pump runs all day');
  });
});

describe('times of a day', () => {
  const day = dayOf(
    [60, true, 'bus', 60],
    [60, false, 'drive', 60],
    [30, false, 'nothing', 30],
    [60, true, 'bus'],
  );

  it('finds the moment at its beginning, within it, and at the end of the day', () => {
    expect(momentAt(day, 3600)).toBe(day.moments[1]);
    expect(momentAt(day, 3599)).toBe(day.moments[0]);
    expect(momentAt(day, day.length_s)).toBe(day.moments[3]);
  });
  it('fills the tank evenly within a moment', () => {
    expect(tankAt(day, 0)).toBe(40);
    expect(tankAt(day, 1800)).toBe(50);
    expect(tankAt(day, 8100)).toBe(45);
  });
  it('joins neighbouring outages', () => expect(outages(day)).toEqual([{ from_s: 3600, to_s: 9000 }]));
  it('takes the grid from the day once it has answered a switch, and from the switch until then', () => {
    expect(gridAt(day, [], 4000)).toBe(false);
    expect(gridAt(day, [{ at_s: 4000, utility: true }], 8000)).toBe(true);
    expect(gridAt(day, [{ at_s: 4000, utility: true }], 3700)).toBe(false);
    expect(gridAt(day, [{ at_s: 4000, utility: false }], 9500)).toBe(true);
  });
});

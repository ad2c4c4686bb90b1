import type { Day, Moment } from '../api/types';
import { defaultFormat, type Format } from '../text/format';
import { say } from '../text/words';
import { NOTHING, pump_kw } from './flows';

/** A time at which the user switches the grid. */
export interface Switched {
  at_s: number;
  utility: boolean;
}

function seconds(moments: readonly Moment[], when: (m: Moment) => boolean): number {
  return moments.reduce((sum, m) => (when(m) ? sum + m.length_s : sum), 0);
}

const still = (m: Moment): boolean => m.pump_on === 'nothing' || pump_kw(m) < NOTHING;

/** The title of the day's chart: what it shows. */
export function dayTitle(day: Day, format: Format = defaultFormat): string {
  const away_s = seconds(day.moments, (m) => !m.utility);
  const wholeDay = away_s >= day.length_s - 30;
  if (away_s >= 30 && !wholeDay) {
    const away = format.duration(away_s).text;
    const stillAway_s = seconds(day.moments, (m) => !m.utility && still(m));
    if (stillAway_s < 30) return say('day-away-and-runs', { away });
    if (stillAway_s > away_s - 30) return say('day-away-and-dark', { away });
    return say('day-away-and-still', { away, still: format.duration(stillAway_s).text });
  }
  const still_s = seconds(day.moments, still);
  if (still_s < 30) return say('day-never-still');
  if (still_s > day.length_s - 30) return say('day-still-all');
  // A pump that rests is normal; it matters if water is short.
  return day.is_short
    ? say('day-still', { still: format.duration(still_s).text })
    : say('day-runs', { runs: format.duration(day.length_s - still_s).text });
}

/** The moment at a time of the day; the last one at its end. */
export function momentAt(day: Day, at_s: number): Moment | undefined {
  let [low, high] = [0, day.moments.length - 1];
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if ((day.moments[middle]?.start_s ?? Infinity) <= at_s) low = middle;
    else high = middle - 1;
  }
  return day.moments[low];
}

/** Tank content at a time of the day, in m³. It changes linearly within a moment. */
export function tankAt(day: Day, at_s: number): number {
  const now = momentAt(day, at_s);
  if (!now) return day.tank_at_begin_m3;
  const before = day.moments[day.moments.indexOf(now) - 1]?.tank_m3 ?? day.tank_at_begin_m3;
  const part = now.length_s > 0 ? Math.min(1, Math.max(0, (at_s - now.start_s) / now.length_s)) : 1;
  return before + part * (now.tank_m3 - before);
}

/**
 * Whether the grid is there at a time. The day says so. While the answer to the last switch is on its way, the switch
 * itself decides from its time on.
 */
export function gridAt(day: Day, switched: readonly Switched[], at_s: number): boolean {
  const last = switched.filter((s) => s.at_s <= at_s).sort((a, b) => b.at_s - a.at_s)[0];
  if (last && momentAt(day, last.at_s)?.utility !== last.utility) return last.utility;
  return momentAt(day, at_s)?.utility ?? true;
}

/** Outages, in s from the beginning of the day. */
export function outages(day: Day): { from_s: number; to_s: number }[] {
  const found: { from_s: number; to_s: number }[] = [];
  for (const m of day.moments) {
    if (m.utility) continue;
    const last = found.at(-1);
    if (last && Math.abs(last.to_s - m.start_s) < 1) last.to_s = m.start_s + m.length_s;
    else found.push({ from_s: m.start_s, to_s: m.start_s + m.length_s });
  }
  return found;
}

/** The time at the handle, in words. */
export function handleInWords(day: Day, grid: boolean, at_s: number, format: Format = defaultFormat): string {
  const m = momentAt(day, at_s);
  return say('day-value', {
    clock: format.clock(at_s).text,
    grid: grid ? say('day-there') : say('day-gone'),
    sun: format.power(m?.available_kw ?? 0).text,
    pump: format.power(m ? pump_kw(m) : 0).text,
    tank: format.volume(tankAt(day, at_s)).text,
  });
}

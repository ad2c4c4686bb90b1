import { max } from 'd3-array';
import { scaleLinear } from 'd3-scale';
import { area, curveStepAfter, line } from 'd3-shape';
import type { Day } from '../api/types';
import { NOTHING, pump_kw, used_kw } from './flows';

/** Sizes of the day's chart, in px. */
export interface Frame {
  width: number;
  left: number;
  right: number;
  powerTop: number;
  powerBottom: number;
  tankTop: number;
  tankBottom: number;
}

/** Width of a digit of the axis, in px. */
const FIGURE_PX = 7.6;

export function frameFor(width: number, day: Day): Frame {
  const narrow = width < 600;
  const figures = Math.max(2, Math.ceil(Math.log10(Math.max(1, 1.2 * highest_kw(day)))) + 1);
  return {
    width,
    left: Math.max(narrow ? 34 : 44, 14 + figures * FIGURE_PX),
    right: width - (narrow ? 12 : 16),
    powerTop: 34,
    powerBottom: narrow ? 164 : 194,
    tankTop: narrow ? 186 : 218,
    tankBottom: narrow ? 220 : 258,
  };
}

function highest_kw(day: Day): number {
  return max(day.moments, (m) => Math.max(m.available_kw, pump_kw(m))) ?? 0;
}

interface Step {
  s: number;
  kw: number;
}

/** Scales and paths of a day. */
export function dayChart(day: Day, frame: Frame) {
  const { moments } = day;
  const x = scaleLinear([0, day.length_s], [frame.left, frame.right]).clamp(true);
  const y = scaleLinear([0, Math.max(0.1, highest_kw(day))], [frame.powerBottom, frame.powerTop]).nice(4);
  const greatest = max(moments, (m) => m.tank_m3) ?? 0;
  const tankY = scaleLinear(
    [0, Math.max(0.1, greatest, day.tank_at_begin_m3)],
    [frame.tankBottom, frame.tankTop],
  ).nice(2);

  const steps = (of: (m: (typeof moments)[number]) => number): Step[] => {
    const last = moments.at(-1);
    const points = moments.map((m) => ({ s: m.start_s, kw: of(m) }));
    return last ? [...points, { s: last.start_s + last.length_s, kw: of(last) }] : points;
  };
  const filled = area<Step>(
    (p) => x(p.s),
    frame.powerBottom,
    (p) => y(p.kw),
  ).curve(curveStepAfter);
  const drawn = line<Step>(
    (p) => x(p.s),
    (p) => y(p.kw),
  ).curve(curveStepAfter);
  const content = [
    { s: 0, kw: day.tank_at_begin_m3 },
    ...moments.map((m) => ({ s: m.start_s + m.length_s, kw: m.tank_m3 })),
  ];

  return {
    x,
    y,
    tankY,
    hasSun: moments.some((m) => m.available_kw >= NOTHING),
    available: filled(steps((m) => m.available_kw)) ?? '',
    outline: drawn(steps((m) => m.available_kw)) ?? '',
    used: filled(steps(used_kw)) ?? '',
    pump: drawn(steps(pump_kw)) ?? '',
    tank:
      line<Step>(
        (p) => x(p.s),
        (p) => tankY(p.kw),
      )(content) ?? '',
    tankArea:
      area<Step>(
        (p) => x(p.s),
        frame.tankBottom,
        (p) => tankY(p.kw),
      )(content) ?? '',
  };
}

/** Hours that are labelled on the time axis. */
export function hourTicks(day: Day, width: number): number[] {
  const every = width < 600 ? 6 : 3;
  const hours = day.length_s / 3600;
  return Array.from({ length: Math.floor(hours / every) + 1 }, (_, i) => i * every);
}

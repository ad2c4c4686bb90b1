import type { Moment, Picture } from '../../api/types';
import type { Format } from '../../text/format';
import { nameOf, say } from '../../text/words';
import { NOTHING, isSwitching, pump_kw, used_kw, type Flow, type Flows } from '../flows';
import { tankTrend } from '../moment-in-words';
import { keepApart } from './geometry';
import type { Line } from './Label.svelte';
import { tankLevel, type DeviceName, type Layout } from './layout';

/** A label with its place. */
export interface Placed {
  x: number;
  y: number;
  lines: Line[];
  anchor?: 'start' | 'middle' | 'end';
  onEarth?: boolean;
  /** Inside the tank: smaller, and without a background. */
  inside?: boolean;
}

export interface Shown {
  picture: Picture;
  moment: Moment;
  flows: Flows;
  layout: Layout;
  standing_m: number;
  tankAtBegin: number | null;
  format: Format;
}

const LEADING = 17;

/** All labels of the picture. */
export function labelsOf(shown: Shown): Placed[] {
  return [...arrayLabels(shown), ...converterLabels(shown), ...deviceLabels(shown), ...waterLabels(shown)];
}

function arrayLabels({ picture, moment: m, layout, format }: Shown): Placed[] {
  if (!layout.array || picture.array_kwp === null) return [];
  const lines: Line[] = [{ text: say('thing-array'), kind: 'name' }];
  if (m.available_kw < NOTHING) lines.push({ text: say('picture-no-sun'), kind: 'note' });
  else {
    const whole = format.power(m.available_kw);
    const used = format.power(used_kw(m));
    const both = used.unit === whole.unit ? used.value : used.text;
    lines.push({ text: say('picture-of', { part: both, whole: whole.text }), kind: 'value', tone: 'sun' });
    if (m.lost_kw >= NOTHING)
      lines.push({ text: say('picture-unused', { power: format.power(m.lost_kw).text }), tone: 'loss' });
  }
  const labels: Placed[] = [{ ...layout.arrayLabel, lines }];
  if (layout.arraySwitch && isSwitching(m, picture) && m.main_loss === 'changeover') {
    const { pivot } = layout.arraySwitch;
    const place = layout.portrait
      ? { x: pivot.x + 44, y: pivot.y + 5 }
      : { x: layout.arraySwitch.drive.x + 8, y: pivot.y + 5 };
    labels.push({ ...place, lines: [{ text: say('picture-switching'), kind: 'value' }] });
  }
  return labels;
}

function converterLabels({ moment: m, flows, layout, format }: Shown): Placed[] {
  const labels: Placed[] = [];
  const { drive, inverter, portrait } = layout;
  if (drive) {
    const running = flows.driveToPump.kw >= NOTHING;
    const name: Line = { text: say('thing-drive'), kind: 'name' };
    const power: Line = { text: format.power(flows.driveToPump.kw).text, kind: 'value' };
    const speed: Line = running
      ? { text: format.frequency(m.hz).text, kind: 'value' }
      : { text: say('picture-idle'), kind: 'note' };
    if (portrait) {
      labels.push({ x: drive.x, y: drive.y - 32, anchor: 'middle', lines: [name] });
      const lines = running ? [power, speed] : [speed];
      labels.push({ x: drive.x + 34, y: drive.y + 28, lines });
    } else {
      labels.push({ x: drive.x, y: drive.y - 38, anchor: 'middle', lines: [name] });
      const beside = drive.x + drive.w / 2 + 10;
      if (running) labels.push({ x: beside, y: drive.y - 14, lines: [power] });
      labels.push({ x: beside, y: drive.y + 24, lines: [speed] });
    }
  }
  if (inverter) {
    const running = flows.inverterToBus.kw >= NOTHING;
    labels.push({
      x: inverter.x + inverter.w / 2 + 8,
      y: inverter.y - 2,
      lines: [
        { text: say('thing-inverter'), kind: 'name' },
        ...(running ? [] : [{ text: say('picture-idle'), kind: 'note' } as Line]),
      ],
    });
    if (running) {
      const power = format.power(flows.inverterToBus.kw).text;
      const beside: Pick<Placed, 'x' | 'anchor'> = portrait
        ? { x: inverter.x + 18, anchor: 'start' }
        : { x: inverter.x - 18, anchor: 'end' };
      const place = { ...beside, y: inverter.y + inverter.h / 2 + 30 };
      labels.push({ ...place, lines: [{ text: power, kind: 'value', tone: 'sun' }] });
    }
  }
  return labels;
}

function deviceLabels(shown: Shown): Placed[] {
  const { layout, flows, format } = shown;
  const labels = layout.devices.map(({ name, x, labelY }): Placed => {
    const lines: Line[] = [{ text: nameOf('thing', name), kind: 'name' }, ...deviceLines(name, shown)];
    return { x, y: labelY, anchor: 'middle', lines };
  });
  if (layout.riserLabel && layout.bus && flows.busToPump.kw >= NOTHING) {
    const lines: Line[] = [{ text: format.power(flows.busToPump.kw).text, kind: 'value' }];
    labels.push({ ...layout.riserLabel, anchor: 'end', lines });
  }
  return labels;
}

function deviceLines(name: DeviceName, { moment: m, flows, format }: Shown): Line[] {
  const power = (flow: Flow, tone: Line['tone']): Line[] => [
    { text: format.power(flow.kw).text, kind: 'value', tone },
    { text: flow.back ? say('picture-takes') : say('picture-gives') },
  ];
  switch (name) {
    case 'grid':
      if (!m.utility) return [{ text: say('picture-away'), kind: 'value', tone: 'ink' }];
      return flows.gridToBus.kw < NOTHING ? [{ text: say('picture-idle') }] : power(flows.gridToBus, 'grid');
    case 'battery': {
      const content: Line = { text: format.energy(m.battery_kwh).text };
      if (flows.batteryToBus.kw < NOTHING) return [{ text: say('picture-idle') }, content];
      const [line, way] = power(flows.batteryToBus, 'battery');
      return [line!, { text: way!.text }, content];
    }
    case 'generator':
      return flows.generatorToBus.kw < NOTHING
        ? [{ text: say('picture-idle') }]
        : power(flows.generatorToBus, 'generator');
    case 'farm': {
      const served = m.load_kw - m.unserved_kw;
      if (m.load_kw < NOTHING) return [{ text: say('picture-idle') }];
      const missing: Line = { text: say('picture-missing', { power: format.power(m.unserved_kw).text }) };
      if (served < NOTHING) return [{ text: say('picture-dark'), kind: 'value', tone: 'ink' }, missing];
      const value: Line = { text: format.power(served).text, kind: 'value', tone: 'farm' };
      return m.unserved_kw < NOTHING ? [value, { text: say('picture-takes') }] : [value, missing];
    }
  }
}

function waterLabels({ picture, moment: m, layout, standing_m, tankAtBegin, format }: Shown): Placed[] {
  const { section } = layout;
  const { well, tank, ground } = section;
  const running = pump_kw(m) >= NOTHING && m.pump_on !== 'nothing';
  const side: { y: number; line: Line }[] = [];
  const y = (depth_m: number) => ground + depth_m * section.px_per_m + 5;
  if (m.pumped_m3_h >= NOTHING) {
    side.push({
      y: ground + 66,
      line: { text: format.flow(m.pumped_m3_h).text, kind: 'value', tone: 'water' },
    });
  }
  side.push({
    y: y(standing_m),
    line: { text: say('picture-standing', { depth: format.length(standing_m).text }), tone: 'water' },
  });
  const level = m.level_m ?? standing_m;
  if (Math.abs(level - standing_m) >= 0.5) {
    const line: Line = {
      text: say('picture-level', { depth: format.length(level).text }),
      kind: 'value',
      tone: 'water',
    };
    side.push({ y: y(level), line });
  }
  const name = say('picture-pumps', { pumps: Math.max(1, picture.pumps) });
  const intake = well.intake - LEADING;
  side.push({ y: intake, line: { text: name, kind: 'name' } });
  const power: Line = running
    ? { text: format.power(pump_kw(m)).text, kind: 'value' }
    : { text: say('picture-stopped'), kind: 'value', tone: 'ink' };
  side.push({ y: intake + LEADING, line: power });
  if (picture.intake_depth_m !== null) {
    side.push({
      y: intake + 2 * LEADING,
      line: { text: say('picture-depth', { depth: format.length(picture.intake_depth_m).text }) },
    });
  }
  const atField = fieldLines(m, format);
  // If the label of the field reaches the well, the labels of the well begin below it.
  const narrow = section.right - well.x < 200;
  const clear = narrow ? ground + 24 + atField.length * LEADING : ground;
  const places = keepApart(
    side.map((label) => Math.max(label.y, clear)),
    LEADING,
    section.bottom - 6,
  );
  const x = well.x + well.halfWidth + 12;
  const labels = side.map(({ line }, i): Placed => ({ x, y: places[i] ?? 0, lines: [line], onEarth: true }));

  const share = picture.tank_m3 > 0 ? m.tank_m3 / picture.tank_m3 : 0;
  const arrow = { '1': ' ↑', '0': '', '-1': ' ↓' }[`${tankTrend(m, tankAtBegin)}`];
  const top = tank.y - tank.h / 2;
  const content = format.volume(m.tank_m3).text;
  const pressure = pressureLines(picture.outlet_pressure_bar, format);
  labels.push({
    x: tank.x,
    y: top - 13 - LEADING * (1 + pressure.length),
    anchor: 'middle',
    lines: [
      { text: tankName(picture.outlet_lift_m, format), kind: 'name' },
      ...pressure,
      {
        text: say('picture-tank-holds', { content, share: format.share(share).text }) + arrow,
        kind: 'value',
        tone: 'water',
      },
    ],
  });
  labels.push(...tankMarks(picture, layout));
  const place = { x: section.right - 6, anchor: 'end', onEarth: true } as const;
  labels.push({ ...place, y: ground + 24, lines: atField });
  return labels;
}

/** The tank with the height of its inlet above the well's head, in m. */
function tankName(lift_m: number, format: Format): string {
  if (Math.abs(lift_m) < 0.5) return say('picture-tank');
  const height = format.length(Math.abs(lift_m)).text;
  return lift_m > 0 ? say('picture-tank-up', { height }) : say('picture-tank-down', { height });
}

/** The pressure that the pump must keep at the inlet of the tank, in bar; nothing for a free outlet. */
function pressureLines(bar: number, format: Format): Line[] {
  return bar < 0.05
    ? []
    : [{ text: say('picture-pressure', { pressure: format.plain(Number(bar.toFixed(1)), 'bar').text }) }];
}

/** The words at the marks inside the tank; the lower one only if there is room for both. */
function tankMarks(picture: Picture, layout: Layout): Placed[] {
  const { tank } = layout.section;
  const y = (share: number) => tankLevel(tank, share) + 4;
  const at = (share: number, word: string): Placed => ({
    x: tank.x + tank.w / 2 - 19,
    y: y(share),
    anchor: 'end',
    inside: true,
    lines: [{ text: word }],
  });
  const restart = at(picture.tank_restart, say('picture-restart'));
  const low = at(picture.tank_low_mark, say('picture-low'));
  return low.y - restart.y < LEADING ? [low] : [restart, low];
}

function fieldLines(m: Moment, format: Format): Line[] {
  const name: Line = { text: say('thing-field'), kind: 'name' };
  if (m.demand_m3_h < NOTHING) return [name, { text: say('picture-no-water') }];
  const gets: Line = { text: format.flow(m.delivered_m3_h).text, kind: 'value', tone: 'water' };
  const short = m.delivered_m3_h < m.demand_m3_h - NOTHING;
  return short
    ? [name, gets, { text: say('picture-wants', { flow: format.flow(m.demand_m3_h).text }) }]
    : [name, gets];
}

import type { Moment, Picture } from '../api/types';
import { defaultFormat, type Format } from '../text/format';
import { isWhole } from '../text/rounding';
import { nameOf, say } from '../text/words';
import { NOTHING, isSwitching, pump_kw, used_kw, type Source } from './flows';

/** Unused power below this share of the available power is not mentioned. */
const WORTH_SAYING = 0.05;

export interface WordOptions {
  /** Tank content at the beginning of the moment, in m³, if known. */
  tankAtBegin?: number | null;
  format?: Format;
}

type Teller = (m: Moment, picture: Picture, format: Format) => string;

/** What the picture shows, in sentences. */
export function momentInWords(picture: Picture, m: Moment, options: WordOptions = {}): string {
  const { format = defaultFormat, tankAtBegin = null } = options;
  const tellers: Teller[] = [
    grid,
    array,
    otherSources,
    pump,
    (...of) => tank(tankAtBegin, ...of),
    field,
    farm,
  ];
  const said = tellers.map((tell) => tell(m, picture, format));
  return [say('moment-at', { clock: format.clock(m.start_s).text }), ...said]
    .filter((part) => part !== '')
    .join(' ');
}

function grid(m: Moment, picture: Picture, format: Format): string {
  if (!picture.has_grid) return '';
  if (!m.utility) return say('moment-grid-away');
  const net = m.imported_kw - m.exported_kw;
  if (net >= NOTHING) return say('moment-grid-gives', { power: format.power(net).text });
  if (net <= -NOTHING) return say('moment-grid-takes', { power: format.power(-net).text });
  return say('moment-grid-there');
}

function array(m: Moment, picture: Picture, format: Format): string {
  if (picture.array_kwp === null) return '';
  if (m.available_kw < NOTHING) return say('moment-no-sun');
  const available = format.power(m.available_kw).text;
  if (isSwitching(m, picture)) {
    return m.main_loss === 'changeover'
      ? say('moment-array-switching', { available })
      : say('moment-array-open', { available });
  }
  const used = used_kw(m);
  const why = m.main_loss === null ? '' : nameOf('why', m.main_loss);
  if (used < NOTHING)
    return why
      ? say('moment-array-unused-why', { available, why })
      : say('moment-array-unused', { available });
  const device = {
    inverter: () => say('moment-inverter'),
    drive: () => say('moment-drive'),
    both: () => say('moment-both'),
    neither: () => say('moment-inverter'),
  }[m.array_on]();
  const usedText = format.power(used).text;
  const feeds =
    usedText === available
      ? say('moment-array-feeds-all', { device, used: usedText })
      : say('moment-array-feeds', { device, used: usedText, available });
  const lost = m.lost_kw;
  if (why === '' || lost < NOTHING || lost < WORTH_SAYING * m.available_kw) return feeds;
  return `${feeds} ${say('moment-rest', { power: format.power(lost).text, why })}`;
}

function otherSources(m: Moment, picture: Picture, format: Format): string {
  const said: string[] = [];
  if (picture.battery_kwh !== null) {
    const content = format.energy(m.battery_kwh).text;
    const power = format.power(Math.abs(m.battery_kw)).text;
    if (Math.abs(m.battery_kw) < NOTHING) said.push(say('moment-battery-rests', { content }));
    else
      said.push(
        m.battery_kw > 0
          ? say('moment-battery-gives', { power, content })
          : say('moment-battery-takes', { power, content }),
      );
  }
  if (m.generator_kw >= NOTHING)
    said.push(say('moment-generator-gives', { power: format.power(m.generator_kw).text }));
  return said.join(' ');
}

const SOURCES: Record<Source, () => string> = {
  sun: () => say('source-array'),
  grid: () => say('source-grid'),
  battery: () => say('source-battery'),
  generator: () => say('source-generator'),
};

/** Where the pump's power comes from, the largest first. */
export function pumpSources(m: Moment): Source[] {
  const parts: [Source, number][] = [
    ['sun', m.array_to_pump_kw],
    ['grid', m.grid_to_pump_kw],
    ['battery', m.battery_to_pump_kw],
    ['generator', m.generator_to_pump_kw],
  ];
  return parts
    .filter(([, kw]) => kw >= NOTHING)
    .sort((a, b) => b[1] - a[1])
    .map(([source]) => source);
}

function list(words: readonly string[]): string {
  const [first = '', ...rest] = words;
  return rest.reduce(
    (before, word, i) =>
      i < rest.length - 1
        ? say('list-more', { before, next: word })
        : say('list-last', { before, last: word }),
    first,
  );
}

function pump(m: Moment, picture: Picture, format: Format): string {
  const pumps = Math.max(1, picture.pumps);
  const running = m.pump_on !== 'nothing' && pump_kw(m) >= NOTHING;
  if (!running) return say('moment-pump-still', { pumps });
  const lifted = format.flow(m.pumped_m3_h).text;
  const flow =
    m.level_m === null
      ? lifted
      : say('moment-flow-from', { flow: lifted, depth: format.length(m.level_m).text });
  if (m.pump_on === 'drive' && m.hz > 0) {
    return say('moment-pump-on-drive', { pumps, speed: format.frequency(m.hz).text, flow });
  }
  const sources = pumpSources(m).map((source) => SOURCES[source]());
  return say('moment-pump-on-bus', { pumps, sources: list(sources), flow });
}

function tank(tankAtBegin: number | null, m: Moment, picture: Picture, format: Format): string {
  if (picture.tank_m3 <= 0) return '';
  const share = m.tank_m3 / picture.tank_m3;
  if (isWhole(share)) return say('moment-tank-full');
  const rate = tankTrend(m, tankAtBegin);
  return say('moment-tank', {
    content: format.volume(m.tank_m3).text,
    share: format.share(share).text,
    trend: rate > 0 ? 'rising' : rate < 0 ? 'falling' : 'steady',
    mark: share < picture.tank_low_mark ? 'low' : 'above',
  });
}

/** 1 while the tank fills, −1 while it empties, 0 when it does neither. */
export function tankTrend(m: Moment, tankAtBegin: number | null): -1 | 0 | 1 {
  const hours = m.length_s / 3600;
  const rate =
    tankAtBegin === null || hours <= 0 ? m.pumped_m3_h - m.delivered_m3_h : (m.tank_m3 - tankAtBegin) / hours;
  if (Math.abs(rate) < NOTHING) return 0;
  return rate > 0 ? 1 : -1;
}

function field(m: Moment, _: Picture, format: Format): string {
  if (m.demand_m3_h < NOTHING) return say('moment-field-rests');
  const wanted = format.flow(m.demand_m3_h).text;
  if (m.delivered_m3_h < NOTHING) return say('moment-field-dry', { wanted });
  const gets = format.flow(m.delivered_m3_h).text;
  return gets === wanted
    ? say('moment-field-gets', { flow: gets })
    : say('moment-field-gets-part', { flow: gets, wanted });
}

function farm(m: Moment, picture: Picture, format: Format): string {
  if (!picture.has_loads || m.load_kw < NOTHING) return '';
  const wanted = format.power(m.load_kw).text;
  const served = m.load_kw - m.unserved_kw;
  if (served < NOTHING) return say('moment-farm-dark', { wanted });
  return m.unserved_kw < NOTHING
    ? say('moment-farm-served', { power: wanted })
    : say('moment-farm-part', { power: format.power(served).text, wanted });
}

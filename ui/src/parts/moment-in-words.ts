import type { Moment, Picture } from '../api/types';
import { en, type Text } from '../text/en';
import { defaultFormat, type Format } from '../text/format';
import { NOTHING, isSwitching, pump_kw, used_kw, type Source } from './flows';

/** Below this share of what is available, what goes unused is not worth a sentence. */
const WORTH_SAYING = 0.05;

export interface WordOptions {
  /** Tank content at the begin of the moment, in m³, if known. */
  tankAtBegin?: number | null;
  text?: Text;
  format?: Format;
}

type Teller = (m: Moment, picture: Picture, text: Text, format: Format) => string;

/** What the picture shows, in sentences. */
export function momentInWords(picture: Picture, m: Moment, options: WordOptions = {}): string {
  const { text = en, format = defaultFormat, tankAtBegin = null } = options;
  const tellers: Teller[] = [
    grid,
    array,
    otherSources,
    pump,
    (...of) => tank(tankAtBegin, ...of),
    field,
    farm,
  ];
  const said = tellers.map((tell) => tell(m, picture, text, format));
  return [text.moment.at(format.clock(m.start_s).text), ...said].filter((part) => part !== '').join(' ');
}

function grid(m: Moment, picture: Picture, text: Text, format: Format): string {
  const say = text.moment;
  if (!picture.has_grid) return '';
  if (!m.utility) return say.gridAway;
  const net = m.imported_kw - m.exported_kw;
  if (net >= NOTHING) return say.gridGives(format.power(net).text);
  if (net <= -NOTHING) return say.gridTakes(format.power(-net).text);
  return say.gridThere;
}

function array(m: Moment, picture: Picture, text: Text, format: Format): string {
  const say = text.moment;
  if (picture.array_kwp === null) return '';
  if (m.available_kw < NOTHING) return say.noSun;
  const available = format.power(m.available_kw).text;
  if (isSwitching(m, picture)) {
    return m.main_loss === 'changeover' ? say.arraySwitching(available) : say.arrayOpen(available);
  }
  const used = used_kw(m);
  const why = m.main_loss === null ? '' : (text.losses[m.main_loss] ?? m.main_loss);
  if (used < NOTHING) return say.arrayUnused(available, why);
  const device = { inverter: say.theInverter, drive: say.theDrive, both: say.both, neither: say.theInverter }[
    m.array_on
  ];
  const usedText = format.power(used).text;
  const feeds =
    usedText === available
      ? say.arrayFeedsAll(device, usedText)
      : say.arrayFeeds(device, usedText, available);
  const lost = m.lost_kw;
  if (why === '' || lost < NOTHING || lost < WORTH_SAYING * m.available_kw) return feeds;
  return `${feeds} ${say.rest(format.power(lost).text, why)}`;
}

function otherSources(m: Moment, picture: Picture, text: Text, format: Format): string {
  const say = text.moment;
  const said: string[] = [];
  if (picture.battery_kwh !== null) {
    const content = format.energy(m.battery_kwh).text;
    const power = format.power(Math.abs(m.battery_kw)).text;
    if (Math.abs(m.battery_kw) < NOTHING) said.push(say.batteryRests(content));
    else said.push(m.battery_kw > 0 ? say.batteryGives(power, content) : say.batteryTakes(power, content));
  }
  if (m.generator_kw >= NOTHING) said.push(say.generatorGives(format.power(m.generator_kw).text));
  return said.join(' ');
}

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

function list(words: string[], text: Text): string {
  if (words.length < 2) return words.join('');
  return words.slice(0, -1).join(text.moment.comma) + text.moment.and + words.at(-1);
}

function pump(m: Moment, picture: Picture, text: Text, format: Format): string {
  const say = text.moment;
  const many = picture.pumps > 1;
  const name = many ? say.thePumps(picture.pumps) : say.thePump;
  const running = m.pump_on !== 'nothing' && pump_kw(m) >= NOTHING;
  if (!running) return say.pumpStill(name, many ? say.stand : say.stands);
  const runs = many ? say.run : say.runs;
  const flow = format.flow(m.pumped_m3_h).text;
  const from = m.level_m === null ? '' : say.fromDepth(format.length(m.level_m).text);
  if (m.pump_on === 'drive' && m.hz > 0) {
    return say.pumpOnDrive(name, runs, format.frequency(m.hz).text, flow, from);
  }
  const sources = pumpSources(m).map((source) => say.sources[source]);
  return say.pumpOnBus(name, runs, list(sources, text), flow, from);
}

function tank(tankAtBegin: number | null, m: Moment, picture: Picture, text: Text, format: Format): string {
  const say = text.moment;
  if (picture.tank_m3 <= 0) return '';
  const share = m.tank_m3 / picture.tank_m3;
  if (share >= 0.995) return say.tankFull;
  const rate = tankTrend(m, tankAtBegin);
  const trend = rate > 0 ? say.rising : rate < 0 ? say.falling : '';
  const low = share < picture.tank_low_mark ? say.low : '';
  return say.tank(format.volume(m.tank_m3).text, format.share(share).text, trend + low);
}

/** 1 while the tank fills, −1 while it empties, 0 when it does neither. */
export function tankTrend(m: Moment, tankAtBegin: number | null): -1 | 0 | 1 {
  const hours = m.length_s / 3600;
  const rate =
    tankAtBegin === null || hours <= 0 ? m.pumped_m3_h - m.delivered_m3_h : (m.tank_m3 - tankAtBegin) / hours;
  if (Math.abs(rate) < NOTHING) return 0;
  return rate > 0 ? 1 : -1;
}

function field(m: Moment, _: Picture, text: Text, format: Format): string {
  const say = text.moment;
  if (m.demand_m3_h < NOTHING) return say.fieldRests;
  const wanted = format.flow(m.demand_m3_h).text;
  if (m.delivered_m3_h < NOTHING) return say.fieldDry(wanted);
  const gets = format.flow(m.delivered_m3_h).text;
  return gets === wanted ? say.fieldGets(gets) : say.fieldGetsPart(gets, wanted);
}

function farm(m: Moment, picture: Picture, text: Text, format: Format): string {
  const say = text.moment;
  if (!picture.has_loads || m.load_kw < NOTHING) return '';
  const wanted = format.power(m.load_kw).text;
  const served = m.load_kw - m.unserved_kw;
  if (served < NOTHING) return say.farmDark(wanted);
  return m.unserved_kw < NOTHING ? say.farmServed(wanted) : say.farmPart(format.power(served).text, wanted);
}

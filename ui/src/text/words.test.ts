import { FluentResource } from '@fluent/bundle';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'svelte/compiler';
import { describe, expect, it } from 'vitest';
import { WEIGHTS } from '../parts/can-be-built';
import { SECTIONS, SLIDERS } from '../parts/inputs';
import { TOUCHED } from '../parts/picture/touch';
import { VIEWS } from '../state/route.svelte';
import { bundleOf, LANGUAGE } from './language';
import { entryOf, nameOf, say, type Family } from './words';

const { schemas } = (
  JSON.parse(readFileSync('openapi.json', 'utf8')) as { components: { schemas: Record<string, Schema> } }
).components;

interface Schema {
  description?: string;
  properties?: Record<string, Schema>;
  oneOf?: { const: string }[];
}

/** Names that the server sends in a text, as its description lists them: `given`, `assumed` or `default`. */
const listed = (of: string, property: string): string[] =>
  [...(schemas[of]?.properties?.[property]?.description ?? '').matchAll(/`([\w-]+)`/g)].map(
    (found) => found[1]!,
  );

/** The arrangements without extras, from which a plant file chooses. */
function wirings(): string[] {
  const schema = JSON.parse(readFileSync('../docs/schema/plant.schema.json', 'utf8')) as {
    properties: { generator: { properties: { beside: { items: { enum: string[] } } } } };
  };
  return schema.properties.generator.properties.beside.items.enum;
}

/** The values that rules for strings rest on: keys with their sections, and sections. */
function restedOn(): string[] {
  const source = readFileSync('../crates/electrics/src/rule.rs', 'utf8');
  const [lists = ''] = source.slice(source.indexOf('fn required_sections')).split('\n}\n');
  const keys = source.matchAll(/"([a-z_]+\.[a-z_]+)"/g);
  const sections = lists.matchAll(/"([a-z_]+)"/g);
  return ['array.plane', ...new Set([...keys, ...sections].map((found) => found[1]!))];
}

const causes = Object.keys(schemas.Lost?.properties ?? {});
const uses = Object.keys(schemas.ArrayEnergy?.properties ?? {}).filter(
  (key) => key !== 'available' && key !== 'lost',
);
/** Members of each family whose names come with data. */
const families: Record<Family, readonly string[]> = {
  arrangement: wirings(),
  'day-kind': listed('DayChoice', 'kind'),
  loss: causes,
  origin: listed('Input', 'state'),
  rests: restedOn(),
  section: SECTIONS,
  slider: SLIDERS,
  thing: TOUCHED,
  use: uses,
  verdict: schemas.Verdict?.oneOf?.map((one) => one.const) ?? [],
  view: VIEWS,
  weight: WEIGHTS,
  why: causes,
};

const WORDS = `../crates/present/words/${LANGUAGE}`;

/** The entries of a file of words, each with the names of its variables. */
function entriesOf(file: string): Map<string, Set<string>> {
  const text = readFileSync(join(WORDS, file), 'utf8');
  const { body } = new FluentResource(text);
  // The parser skips what it cannot read.
  expect(body.map(({ id }) => id)).toEqual([...text.matchAll(/^([a-z][\w-]*) =/gm)].map((found) => found[1]));
  return new Map(body.map(({ id, value }) => [id, filledInto(value)]));
}

function filledInto(pattern: unknown, names = new Set<string>()): Set<string> {
  if (pattern === null || typeof pattern !== 'object') return names;
  const { type, name } = pattern as { type?: string; name?: string };
  if (type === 'var' && name) names.add(name);
  for (const part of Object.values(pattern)) filledInto(part, names);
  return names;
}

interface Node {
  type: string;
  [key: string]: unknown;
}

/** A use of words in a source: the function, its entries or family, and the names of its variables. */
interface Call {
  where: string;
  callee: 'say' | 'nameOf';
  names: string[];
  filling: string[];
}

function callsIn(path: string): Call[] {
  const source = readFileSync(path, 'utf8');
  // One parser reads both: a module is the script of a component without markup.
  const component = path.endsWith('.svelte') ? source : `<script lang="ts">\n${source}\n</script>`;
  const calls: Call[] = [];
  visit(parse(component, { modern: true }) as unknown as Node, (node) => {
    const callee = (node.callee as Node | undefined)?.name;
    if (node.type !== 'CallExpression' || (callee !== 'say' && callee !== 'nameOf')) return;
    const [first, second] = node.arguments as Node[];
    const filled = second?.type === 'ObjectExpression' ? (second.properties as Node[]) : [];
    calls.push({
      where: path,
      callee,
      names: texts(first),
      filling: filled.map((property) => String((property.key as Node).name)),
    });
  });
  return calls;
}

function visit(node: unknown, seen: (node: Node) => void): void {
  if (Array.isArray(node)) node.forEach((part) => visit(part, seen));
  else if (node !== null && typeof node === 'object') {
    if ('type' in node) seen(node as Node);
    for (const part of Object.values(node)) visit(part, seen);
  }
}

/** The texts that a first argument can be; empty if it is known only at run time. */
function texts(node: Node | undefined): string[] {
  if (node?.type === 'Literal') return [String(node.value)];
  if (node?.type !== 'ConditionalExpression') return [];
  const [one, other] = [texts(node.consequent as Node), texts(node.alternate as Node)];
  return one.length > 0 && other.length > 0 ? [...one, ...other] : [];
}

const sources = readdirSync('src', { recursive: true, encoding: 'utf8' })
  .filter(
    (path) => /\.(ts|svelte)$/.test(path) && !path.endsWith('.test.ts') && path !== join('text', 'words.ts'),
  )
  .map((path) => join('src', path));
const calls = sources.flatMap(callsIn);
const page = entriesOf('page.ftl');
const terms = entriesOf('terms.ftl');
const all = new Map([...terms, ...page]);
const members = Object.entries(families).flatMap(([family, list]) =>
  list.map((member) => entryOf(family as Family, member)),
);

describe('the words of the page', () => {
  it('are used by ids that can be read in the source', () => {
    expect(calls.length).toBeGreaterThan(200);
    expect(calls.filter((call) => call.names.length === 0)).toEqual([]);
  });

  it('all exist and get the variables that they need', () => {
    for (const { where, callee, names, filling } of calls) {
      if (callee !== 'say') continue;
      for (const name of names) {
        expect(all.has(name), `${name} in ${where}`).toBe(true);
        expect([...(all.get(name) ?? [])].sort(), `${name} in ${where}`).toEqual([...filling].sort());
      }
    }
  });

  it('are all used', () => {
    const asked = new Set([
      ...calls.flatMap((call) => (call.callee === 'say' ? call.names : [])),
      ...members,
    ]);
    expect([...page.keys()].filter((id) => !asked.has(id))).toEqual([]);
    const named = new Set(calls.flatMap((call) => (call.callee === 'nameOf' ? call.names : [])));
    expect([...named].sort()).toEqual(Object.keys(families).sort());
  });

  it('exist for every member of a list', () => {
    expect(Object.entries(families).filter(([, list]) => list.length === 0)).toEqual([]);
    expect(members.filter((id) => !all.has(id))).toEqual([]);
  });

  it('are each in one file only', () => {
    expect([...page.keys()].filter((id) => terms.has(id))).toEqual([]);
    expect(() => bundleOf(LANGUAGE)).not.toThrow();
  });
});

describe('a text', () => {
  it('is filled, with a plural where it counts', () => {
    expect(say('app-saved', { file: 'plant.toml' })).toBe('Saved in plant.toml');
    expect([0, 1, 2, 1200].map((days) => say('answers-short-days', { days }))).toEqual([
      'no day is short of water',
      '1 day is short of water',
      '2 days are short of water',
      '1200 days are short of water',
    ]);
    expect(say('moment-tank', { content: '1', share: '2', trend: 'falling', mark: 'low' })).toBe(
      'The tank holds 1 (2 full) and is falling, below its low mark.',
    );
  });

  it('that is missing is an error, and a member without words is shown as it is', () => {
    expect(() => say('no-such-entry')).toThrow('no-such-entry');
    expect(() => say('app-saved')).toThrow('file');
    expect(nameOf('loss', 'a-new-cause')).toBe('a-new-cause');
  });
});

import { expect, it } from 'vitest';
import { byDevice, lineOf, sectionOf, sentence } from './can-be-built';

it('says good only if no finding forbids and no value is unconfirmed', () => {
  const line = lineOf({ verdict: 'good', forbids: 0, warns: 0, unconfirmed: [] });
  expect(line).toEqual({
    verdict: 'good',
    sign: '✓',
    mark: 'The strings can be built.',
    text: 'No rule violated.',
  });
});

it('counts unconfirmed values and warnings', () => {
  const one = lineOf({ verdict: 'assumed', forbids: 0, warns: 0, unconfirmed: ['site.record_low_c'] });
  expect(one.text).toContain('1 value that this depends on is not confirmed');
  const more = lineOf({ verdict: 'assumed', forbids: 0, warns: 2, unconfirmed: ['a.b', 'c.d'] });
  expect(more.text).toBe(
    'No rule violated, but 2 values that this depends on are not confirmed. 2 warnings.',
  );
  expect([one.sign, one.mark]).toEqual(['?', 'The strings are not ready to build yet.']);
});

it('counts findings that forbid', () => {
  const of = (forbids: number) =>
    lineOf({ verdict: 'forbidden', forbids, warns: 1, unconfirmed: ['a.b'] }).text;
  expect([of(1), of(3)]).toEqual(['1 rule violation. 1 warning.', '3 rule violations. 1 warning.']);
});

it('groups findings by device, in their order', () => {
  const finding = (about: string, says: string) => ({
    about,
    says,
    weight: 'notes',
    id: '',
    value: null,
    limit: null,
    unit: '',
    rule: '',
    remedy: '',
    unconfirmed: [],
  });
  const found = byDevice([finding('a', '1'), finding('b', '2'), finding('a', '3')]);
  expect(found.map((one) => [one.about, one.findings.map((f) => f.says)])).toEqual([
    ['a', ['1', '3']],
    ['b', ['2']],
  ]);
  expect(sentence('it has room')).toBe('It has room.');
});

it('finds the section of a key', () => {
  expect([sectionOf('site.record_low_c'), sectionOf('module')]).toEqual(['site', 'module']);
});

import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { en } from './en';

/** Names of the causes of loss, where the program defines them. */
function causes(): string[] {
  const source = readFileSync('../crates/supply/src/cause.rs', 'utf8');
  const list = /LossCause, \d+ \{([^}]*)\}/.exec(source)?.[1] ?? '';
  return [...list.matchAll(/= "([a-z-]+)"/g)].map((found) => found[1] ?? '');
}

it('has words for every cause of loss', () => {
  expect(causes()).toContain('water-not-wanted');
  expect(Object.keys(en.losses)).toEqual(causes());
});

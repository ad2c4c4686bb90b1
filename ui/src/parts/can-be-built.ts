/** The line *can be built*, in words. */
import type { CanBeBuilt } from '../api/types';
import type { en } from '../text/en';

export interface Line {
  verdict: CanBeBuilt['verdict'];
  /** A sign beside the colour. */
  sign: string;
  mark: string;
  text: string;
}

export function lineOf(found: CanBeBuilt, say: typeof en.build): Line {
  const warns = found.warns > 0 ? say.warns(found.warns) : '';
  const { verdict } = found;
  switch (verdict) {
    case 'good':
      return { verdict, sign: '✓', mark: say.good, text: [say.nothing, warns].filter(Boolean).join(' ') };
    case 'assumed':
      return {
        verdict,
        sign: '?',
        mark: say.assumed,
        text: [say.rests(found.unconfirmed.length), warns].filter(Boolean).join(' '),
      };
    case 'forbidden':
      return {
        verdict,
        sign: '✕',
        mark: say.forbidden,
        text: [say.forbids(found.forbids), warns].filter(Boolean).join(' '),
      };
  }
}

/** Section of the inputs in which a key stands. */
export function sectionOf(key: string): string {
  return key.includes('.') ? key.slice(0, key.lastIndexOf('.')) : '';
}

/** The line *can be built*, in words. */
import type { CanBeBuilt, Strings } from '../api/types';
import { LANGUAGE } from '../text/language';
import { nameOf, say } from '../text/words';

export interface Line {
  verdict: CanBeBuilt['verdict'];
  /** A sign in addition to the colour. */
  sign: string;
  mark: string;
  text: string;
}

/** The weights of findings, the most serious first. */
export const WEIGHTS = ['forbids', 'warns', 'notes'] as const;

const SIGNS = { good: '✓', assumed: '?', forbidden: '✕' } as const;

export function lineOf(found: CanBeBuilt): Line {
  const { verdict } = found;
  const reason = {
    good: () => say('strings-nothing'),
    assumed: () => say('strings-rests', { values: found.unconfirmed.length }),
    forbidden: () => say('strings-forbids', { things: found.forbids }),
  }[verdict]();
  const warns = found.warns > 0 ? say('strings-warns', { warnings: found.warns }) : '';
  return {
    verdict,
    sign: SIGNS[verdict],
    mark: nameOf('verdict', verdict),
    text: [reason, warns].filter(Boolean).join(' '),
  };
}

type Finding = Strings['findings'][number];

/** Findings of one weight, grouped by their subject, in their order. */
export function byDevice(findings: readonly Finding[]): { about: string; findings: Finding[] }[] {
  const out: { about: string; findings: Finding[] }[] = [];
  for (const finding of findings) {
    const known = out.find((one) => one.about === finding.about);
    if (known) known.findings.push(finding);
    else out.push({ about: finding.about, findings: [finding] });
  }
  return out;
}

/** The words as a separate sentence. */
export function sentence(words: string): string {
  return `${words.charAt(0).toLocaleUpperCase(LANGUAGE)}${words.slice(1)}.`;
}

/** The section of the inputs for a key, or for a section. */
export function sectionOf(key: string): string {
  return key.includes('.') ? key.slice(0, key.lastIndexOf('.')) : key;
}

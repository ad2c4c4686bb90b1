/** The line *can be built*, in words. */
import type { CanBeBuilt, Strings } from '../api/types';
import type { en } from '../text/en';

export interface Line {
  verdict: CanBeBuilt['verdict'];
  /** A sign beside the colour. */
  sign: string;
  mark: string;
  text: string;
}

export function lineOf(found: CanBeBuilt, say: typeof en.strings): Line {
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

type Finding = Strings['findings'][number];

/** Findings that weigh the same, by what they are about, in their order. */
export function byDevice(findings: readonly Finding[]): { about: string; findings: Finding[] }[] {
  const out: { about: string; findings: Finding[] }[] = [];
  for (const finding of findings) {
    const known = out.find((one) => one.about === finding.about);
    if (known) known.findings.push(finding);
    else out.push({ about: finding.about, findings: [finding] });
  }
  return out;
}

/** Words as a sentence of their own. */
export function sentence(words: string): string {
  return `${words.charAt(0).toLocaleUpperCase('en')}${words.slice(1)}.`;
}

/** Section of the inputs in which a key stands, or which a section is. */
export function sectionOf(key: string): string {
  return key.includes('.') ? key.slice(0, key.lastIndexOf('.')) : key;
}

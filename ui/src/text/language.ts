/**
 * The language of the words. Only this module chooses it. Words are in Fluent files, with a folder for each language;
 * the terminal reads the same files. To add a language, add a folder.
 */
import { FluentBundle, FluentResource } from '@fluent/bundle';

/** The language of the page: the name of its folder. */
export const LANGUAGE = 'en';

const WORDS = '../../../crates/present/words';
const files = import.meta.glob<string>('../../../crates/present/words/*/{terms,page}.ftl', {
  query: '?raw',
  import: 'default',
  eager: true,
});

/** The words of a language; a duplicate entry is an error. */
export function bundleOf(language: string): FluentBundle {
  // No isolation marks around filled-in values: texts are read aloud, compared and copied.
  const bundle = new FluentBundle(language, { useIsolating: false });
  for (const name of ['terms', 'page']) {
    const text = files[`${WORDS}/${language}/${name}.ftl`];
    if (text === undefined) throw new Error(`no words in ${language}/${name}.ftl`);
    const [error] = bundle.addResource(new FluentResource(text));
    if (error) throw error;
  }
  return bundle;
}

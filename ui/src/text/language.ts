/**
 * The language of the words, chosen here and nowhere else. Words are in Fluent files, one folder for each language; the
 * terminal reads the same files. A further language is a further folder.
 */
import { FluentBundle, FluentResource } from '@fluent/bundle';

/** The language that is shown: the name of its folder. */
export const LANGUAGE = 'en';

const WORDS = '../../../crates/present/words';
const files = import.meta.glob<string>('../../../crates/present/words/*/{terms,page}.ftl', {
  query: '?raw',
  import: 'default',
  eager: true,
});

/** The words of a language; an entry that is there twice is an error. */
export function bundleOf(language: string): FluentBundle {
  // No marks around what is filled in: texts are read aloud, compared and copied.
  const bundle = new FluentBundle(language, { useIsolating: false });
  for (const name of ['terms', 'page']) {
    const text = files[`${WORDS}/${language}/${name}.ftl`];
    if (text === undefined) throw new Error(`no words in ${language}/${name}.ftl`);
    const [error] = bundle.addResource(new FluentResource(text));
    if (error) throw error;
  }
  return bundle;
}

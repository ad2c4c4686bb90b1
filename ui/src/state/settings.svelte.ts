/** How the user wants to see numbers. This is kept in the browser, not in the plant. */
import { makeFormat, type FlowUnit } from '../text/format';

const KEY = 'daylift.settings';

interface Stored {
  locale: string;
  flow: FlowUnit;
}

/** The number formats to choose from, each with a sample. */
export const LOCALES: readonly { locale: string; sample: string }[] = [
  'en',
  'de',
  'fr',
  'en-IN',
  'de-CH',
].map((locale) => ({ locale, sample: new Intl.NumberFormat(locale).format(1234567.8) }));

function stored(): Stored {
  try {
    const kept = JSON.parse(window.localStorage.getItem(KEY) ?? '{}') as Partial<Stored>;
    const locale = LOCALES.find((l) => l.locale === kept.locale)?.locale ?? 'en';
    return { locale, flow: kept.flow === 'l/s' ? 'l/s' : 'm3/h' };
  } catch {
    return { locale: 'en', flow: 'm3/h' };
  }
}

class Settings {
  #kept = $state.raw<Stored>(stored());
  format = $derived(makeFormat(this.#kept));

  get locale(): string {
    return this.#kept.locale;
  }

  get flow(): FlowUnit {
    return this.#kept.flow;
  }

  set(change: Partial<Stored>): void {
    this.#kept = { ...this.#kept, ...change };
    try {
      window.localStorage.setItem(KEY, JSON.stringify(this.#kept));
    } catch {
      // A browser without storage starts with the defaults next time.
    }
  }
}

export const settings = new Settings();

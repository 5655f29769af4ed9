import type { LocaleView } from '../bindings/LocaleView';
import type { Preferences } from '../bindings/Preferences';

type Language = 'en' | 'es';

/** Until Rust says which region the shop is in. */
export const usualLocale: LocaleView = {
  sign: '$',
  sign_place: 'before',
  decimal: '.',
  group: ',',
  date_order: 'month_day_year',
  distance: 'mi',
  tax_name: 'sales_tax',
  prices_include_tax: false,
  seller_number: 'none',
};

/** How the screens look and feel; Rust holds the choice, this is only its mirror. */
class Settings {
  language = $state<Language>(navigator.language.startsWith('es') ? 'es' : 'en');
  theme = $state('system');
  hand = $state('right');
  vibration = $state(true);
  /** Size of text, percent of the usual. */
  textSize = $state(100);
  /** How the shop's region writes amounts and dates. */
  locale = $state(usualLocale);

  /** Takes over what Rust holds. */
  take(preferences: Preferences): void {
    this.language = preferences.language === 'es' ? 'es' : 'en';
    this.theme = preferences.theme;
    this.hand = preferences.hand;
    this.vibration = preferences.vibration;
    this.textSize = preferences.text_size;
  }

  /** The same as it is sent to Rust. */
  get preferences(): Preferences {
    return {
      language: this.language,
      theme: this.theme,
      hand: this.hand,
      vibration: this.vibration,
      text_size: this.textSize,
    };
  }
}

/** The one settings object of the app. */
export const settings = new Settings();

/** Writes language, theme, hand and the size of text onto the page's root, where the style sheet reads them. */
export function dress(root: HTMLElement, systemIsDark: boolean): void {
  root.lang = settings.language;
  root.dataset.theme = settings.theme === 'system' ? (systemIsDark ? 'dark' : 'light') : settings.theme;
  root.dataset.hand = settings.hand;
  root.dataset.text = String(settings.textSize);
  root.style.setProperty('--text', String(settings.textSize / 100));
}

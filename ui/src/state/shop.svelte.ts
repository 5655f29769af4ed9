import { shopView } from '../backend/shop';
import type { ShopView } from '../bindings/ShopView';
import { settings, usualLocale } from './settings.svelte';

/** The shop and this device, as Rust holds them. */
class Shop {
  view = $state<ShopView | null>(null);

  /** Asks Rust. */
  async load(): Promise<ShopView> {
    return this.take(await shopView());
  }

  /** Takes the answer of a command. */
  take(view: ShopView): ShopView {
    this.view = view;
    settings.locale = view.set_up ? view.rules.locale : usualLocale;
    return view;
  }
}

/** The one shop object of the app. */
export const shop = new Shop();

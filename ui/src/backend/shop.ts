import type { Preferences } from '../bindings/Preferences';
import type { RulesView } from '../bindings/RulesView';
import type { ShopEntry } from '../bindings/ShopEntry';
import type { ShopView } from '../bindings/ShopView';
import { call } from './shell';

/** The shop, this device, the settings. */
export const shopView = () => call<ShopView>('shop_view');
/** Regions with their rules of authorisation. */
export const regions = () => call<RulesView[]>('regions');
/** Answers of the first start; again to change them. */
export const shopSetUp = (entry: ShopEntry) => call<ShopView>('shop_set_up', { entry });
/** Language, theme, hand, vibration. */
export const preferencesKeep = (entry: Preferences) => call<ShopView>('preferences_keep', { entry });

import type { ShopView } from '../bindings/ShopView';
import { call } from './shell';

/** Makes a new key; the old one signs for it and is destroyed. An empty passphrase is none. */
export const keyChange = (passphrase: string) => call<ShopView>('key_change', { passphrase });
/** Goes on with a new key because the old one is gone: a visible break. */
export const keyLost = (passphrase: string) => call<ShopView>('key_lost', { passphrase });
/** Opens a locked key until the app ends. */
export const keyUnlock = (passphrase: string) => call<ShopView>('key_unlock', { passphrase });
/** Sets, changes or (with an empty new one) removes the passphrase. */
export const keyProtect = (old: string, fresh: string) => call<ShopView>('key_protect', { old, new: fresh });
/** This device's key signs for another device of the shop. */
export const deviceAdd = (device: string, publicKey: string) =>
  call<ShopView>('device_add', { device, publicKey });

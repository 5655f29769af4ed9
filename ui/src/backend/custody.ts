import type { BackupView } from '../bindings/BackupView';
import type { CheckView } from '../bindings/CheckView';
import type { DamagedBackupView } from '../bindings/DamagedBackupView';
import type { ForgettingView } from '../bindings/ForgettingView';
import type { ImportView } from '../bindings/ImportView';
import type { JobView } from '../bindings/JobView';
import type { RestoreEntry } from '../bindings/RestoreEntry';
import type { ShopView } from '../bindings/ShopView';
import { call } from './shell';

/** Writes the whole shop as one encrypted file; the signing key goes in only when it is asked for. */
export const backupWrite = (passphrase: string, withKey: boolean) =>
  call<BackupView>('backup_write', { passphrase, withKey });
/** Says what is in a backup, also in a damaged one. */
export const backupCheck = (path: string, passphrase: string) =>
  call<DamagedBackupView>('backup_check', { path, passphrase });
/** Brings a backup back onto a device that was not set up yet. */
export const backupRestore = (entry: RestoreEntry) => call<ShopView>('backup_restore', { entry });
/** Writes everything in open forms into a new folder. */
export const openExport = () => call<BackupView>('open_export');
/** Takes in such a folder; `trust` names keys of other devices, by fingerprint, that the user has compared. */
export const openImport = (path: string, trust: string[]) => call<ImportView>('open_import', { path, trust });
/** Reads everything that is kept and holds it against its hashes and signatures. */
export const shopCheck = () => call<CheckView>('shop_check');
/** What forgetting the customer would destroy, and what stays. */
export const forgettingView = (job: string) => call<ForgettingView>('forgetting_view', { job });
/** Forgets the customer of a job. */
export const customerForget = (job: string) => call<JobView>('customer_forget', { job });

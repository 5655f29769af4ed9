import type { JobView } from '../bindings/JobView';
import type { ProgrammingSettingsView } from '../bindings/ProgrammingSettingsView';
import type { QuoteEntry } from '../bindings/QuoteEntry';
import type { SettingEntry } from '../bindings/SettingEntry';
import { call } from './shell';

/** Keeps what was quoted for a job on one route; no record before something is decided. */
export const programmingQuoteKeep = (job: string, entry: QuoteEntry) =>
  call<JobView>('programming_quote_keep', { job, entry });
/** Writes the appointment as a calendar file; its path. */
export const appointmentExport = (job: string) => call<string>('appointment_export', { job });
/** The shop's own numbers of each route, with where each comes from. */
export const programmingSettings = () => call<ProgrammingSettingsView>('programming_settings');
/** Sets one of them as it was typed; empty puts the judgment back. */
export const programmingSettingKeep = (entry: SettingEntry) =>
  call<ProgrammingSettingsView>('programming_setting_keep', { entry });

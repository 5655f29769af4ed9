import type { SettingEntry } from '../bindings/SettingEntry';
import type { ToolView } from '../bindings/ToolView';
import type { YearView } from '../bindings/YearView';
import { call } from './shell';

/** Whether the shop should buy a programming tool. */
export const toolView = () => call<ToolView>('tool_view');
/** Sets one number of the offer as it was typed; empty puts the judgment back. */
export const toolSettingKeep = (entry: SettingEntry) => call<ToolView>('tool_setting_keep', { entry });
/** What a year of the shop came to, from records alone. */
export const yearView = (year: string) => call<YearView>('year_view', { year });

import { call } from './shell';

/** Whether the sample shop is looked at in place of the own one. */
export const sampleView = () => call<boolean>('sample_view');
/** Makes the sample shop with one finished job and goes into it; gives the job's id. */
export const sampleEnter = () => call<string>('sample_enter');
/** Back into the own shop; what was done in the sample is thrown away. */
export const sampleLeave = () => call<null>('sample_leave');

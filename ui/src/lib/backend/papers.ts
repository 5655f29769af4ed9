import type { VerificationView } from '../bindings/VerificationView';
import type { WorkView } from '../bindings/WorkView';
import { call } from './shell';

/** Writes the packet and says what its verification found. */
export const packetWrite = (job: string, language: string) =>
  call<VerificationView>('packet_write', { job, language });
/** Verifies a packet on this device. */
export const packetVerify = (path: string) => call<VerificationView>('packet_verify', { path });
/** Progress of long work. */
export const workView = () => call<WorkView>('work_view');
/** Stops long work without harm. */
export const workCancel = () => call<null>('work_cancel');

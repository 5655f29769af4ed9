import type { PacketEntry } from '../bindings/PacketEntry';
import type { SharingView } from '../bindings/SharingView';
import type { VerificationView } from '../bindings/VerificationView';
import type { WorkView } from '../bindings/WorkView';
import { call } from './shell';

/** Exactly what a packet would hand out; nothing is written. */
export const packetPreview = (job: string, entry: PacketEntry) =>
  call<SharingView>('packet_preview', { job, entry });
/** Writes the packet and says what its verification found. */
export const packetWrite = (job: string, entry: PacketEntry) =>
  call<VerificationView>('packet_write', { job, entry });
/** Verifies a packet on this device. */
export const packetVerify = (path: string) => call<VerificationView>('packet_verify', { path });
/** Progress of long work. */
export const workView = () => call<WorkView>('work_view');
/** Stops long work without harm. */
export const workCancel = () => call<null>('work_cancel');
/** Opens a written file with the system's program for it. */
export const fileOpen = (job: string, name: string) => call<null>('file_open', { job, name });
/** Shows the folder of a written file. */
export const folderOpen = (job: string, name: string) => call<null>('folder_open', { job, name });
/** Its bytes. */
export const fileBytes = (job: string, name: string) => call<ArrayBuffer>('file_bytes', { job, name });

import type { NoticeView } from '../bindings/NoticeView';
import { call } from './shell';

/** What happened to the shop's data and was not acknowledged yet. */
export const noticesView = () => call<NoticeView[]>('notices_view');
/** It was read: it is not shown any more. */
export const noticeAcknowledge = (id: string) => call<NoticeView[]>('notice_acknowledge', { id });

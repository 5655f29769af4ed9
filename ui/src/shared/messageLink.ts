import type { Channel } from '../bindings/Channel';

/**
 * Address that opens the phone's own app with the message in it: `sms:` (RFC 5724; `?body=` is what both phones read) or
 * `mailto:` (RFC 6068). Nothing is sent by that alone.
 */
export function messageLink(channel: Channel, to: string, text: string): string {
  const body = encodeURIComponent(text);
  if (channel === 'e_mail') return `mailto:${encodeURIComponent(to.trim())}?body=${body}`;
  return `sms:${to.replace(/[^+\d]/g, '')}?body=${body}`;
}

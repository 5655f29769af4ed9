import { convertFileSrc, invoke } from '@tauri-apps/api/core';

/** Calls one command of the shell with named arguments. */
export function call<T>(command: string, values: Record<string, unknown> = {}): Promise<T> {
  return invoke<T>(command, values);
}

/** Sends bytes as the raw body of a command; what they are stands in the header `x-photo`. */
export function send<T>(command: string, bytes: Uint8Array, about: unknown): Promise<T> {
  return invoke<T>(command, bytes, { headers: { 'x-photo': headerSafe(about) } });
}

/** Address of a picture; the shell's own scheme differs between systems, so the shell is asked for its beginning. */
export function pictureAddress(kind: 'preview' | 'original', sha256: string): string {
  return `${convertFileSrc('', 'photo')}${kind}/${sha256}`;
}

/** JSON in ASCII: a header carries nothing else. */
function headerSafe(about: unknown): string {
  return JSON.stringify(about).replace(
    /[\u007f-\uffff]/g,
    (letter) => `\\u${letter.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
}

/** Endings of what is handed out, and what they are. */
const TYPES: Record<string, string> = {
  pdf: 'application/pdf',
  html: 'text/html',
  zip: 'application/zip',
};

/** Bytes as a file of its name. */
export function fileOf(name: string, bytes: ArrayBuffer): File {
  const ending = name.split('.').pop() ?? '';
  return new File([bytes], name, { type: TYPES[ending] ?? 'application/octet-stream' });
}

/** Whether this web view hands files to the system's share sheet (Web Share API, level 2). */
export function canShare(name: string): boolean {
  if (typeof navigator.share !== 'function' || typeof navigator.canShare !== 'function') return false;
  return navigator.canShare({ files: [fileOf(name, new ArrayBuffer(0))] });
}

/** A phone has no program to open a file with but its share sheet. */
export const onPhone = (): boolean => /Android|iPhone|iPad/.test(navigator.userAgent);

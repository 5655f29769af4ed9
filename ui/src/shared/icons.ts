/** Our own drawings, one file a sign: 24 × 24, one path, stroke 2. */
const files = import.meta.glob<string>('../../../icons-own/ui/*.svg', {
  query: '?raw',
  import: 'default',
  eager: true,
});

/** Every sign by its name. */
export const iconNames = [
  'arrow',
  'back',
  'camera',
  'care',
  'check',
  'circle',
  'clock',
  'cross',
  'edit',
  'erase',
  'file',
  'filter',
  'key',
  'keypad',
  'light',
  'mark',
  'message',
  'minus',
  'module',
  'money',
  'more',
  'move',
  'next',
  'part',
  'phone',
  'photo',
  'pin',
  'plus',
  'search',
  'settings',
  'share',
  'stop',
  'text',
  'undo',
  'zoom',
] as const;
export type IconName = (typeof iconNames)[number];

/** The path of a sign, as its file draws it. */
export function iconPath(name: IconName): string {
  return /<path d="([^"]+)"/.exec(files[`../../../icons-own/ui/${name}.svg`] ?? '')?.[1] ?? '';
}

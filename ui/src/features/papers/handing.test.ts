import { afterEach, expect, test, vi } from 'vitest';
import { canShare, fileOf } from './handing';

afterEach(() => vi.unstubAllGlobals());

test('a file is of the type that its ending says', () => {
  const types = ['a.pdf', 'b.html', 'c.zip', 'd'].map((name) => fileOf(name, new ArrayBuffer(3)).type);
  expect(types).toEqual(['application/pdf', 'text/html', 'application/zip', 'application/octet-stream']);
  expect(fileOf('a.pdf', new ArrayBuffer(3)).size).toBe(3);
});

test('sharing is offered only where the web view takes that file', () => {
  vi.stubGlobal('navigator', {});
  expect(canShare('a.pdf')).toBe(false);
  const asked: string[] = [];
  const takes = (data: ShareData): boolean => {
    asked.push(data.files?.[0]?.name ?? '');
    return data.files?.[0]?.type === 'application/pdf';
  };
  vi.stubGlobal('navigator', { share: () => Promise.resolve(), canShare: takes });
  expect([canShare('a.pdf'), canShare('b.zip')]).toEqual([true, false]);
  expect(asked).toEqual(['a.pdf', 'b.zip']);
});

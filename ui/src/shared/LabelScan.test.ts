import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { answers, callsOf, forget, refusal } from '../testing/fakeShell';
import { clear, count, one, press, settled, show, textOf } from '../testing/screen';
import LabelScan from './LabelScan.svelte';

vi.mock('../backend/shell', () => import('../testing/fakeShell'));

const VIN = '1G4AH59H45G118341';
const taken = vi.fn();

async function pickFile(): Promise<void> {
  const input = one<HTMLInputElement>('[name=label-vin-file]');
  // jsdom's files don't give their bytes.
  const file = { arrayBuffer: () => Promise.resolve(new ArrayBuffer(4)) };
  Object.defineProperty(input, 'files', { configurable: true, value: [file] });
  const before = callsOf('label_read').length;
  input.dispatchEvent(new Event('change', { bubbles: true }));
  // A file's bytes come when they come.
  await vi.waitFor(() => expect(callsOf('label_read').length).toBeGreaterThan(before));
  for (let turn = 0; turn < 3; turn += 1) await settled();
}

beforeEach(() => {
  forget();
  taken.mockReset();
  const said = (text: string): Promise<string> => Promise.resolve(`about ${text}`);
  show(LabelScan, { what: 'vin', label: 'Photo of the label', said, ontake: taken });
});
afterEach(clear);

describe('a label', () => {
  it('from a file is read, said, and taken with one tap only', async () => {
    answers.label_read = () => ({ text: VIN, symbology: 'code_39', corners: [] });
    await pickFile();
    expect(callsOf('label_read')[0]?.about).toEqual({ what: 'vin', frame: null });
    expect(textOf('[data-name=label-found]')).toContain(VIN);
    expect(textOf('[data-name=label-found]')).toContain(`about ${VIN}`);
    expect(taken).not.toHaveBeenCalled();
    await press('label-vin-take');
    expect(taken).toHaveBeenCalledWith(VIN);
    expect(count('[data-name=label-found]')).toBe(0);
  });

  it('that can’t be read, or a file that is no picture, says what to do', async () => {
    answers.label_read = () => null;
    await pickFile();
    expect(textOf('[data-name=label-nothing]')).toContain('No bar code could be read');
    answers.label_read = refusal('photo_not_a_picture');
    await pickFile();
    expect(textOf('[data-name=label-nothing]')).toContain('or type it');
  });

  it('is typed where there is no camera: the reason is said, the file stays offered', async () => {
    await press('label-vin-camera');
    await settled();
    expect(document.body.textContent).toContain('No camera was found');
    expect(count('[data-name=label-vin-files]')).toBe(1);
  });
});

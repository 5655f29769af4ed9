import { describe, expect, it } from 'vitest';
import { customerMessage } from './message';

const told = {
  language: 'en',
  shop: 'Norrin Lane Garage',
  number: 7,
  amount: '$412.50',
  checkpoint: { size: 23, text: '', words: 'one two three', qr: '', signed: '' },
  key: 'four five six',
};

describe('the customer’s message', () => {
  it('names job, amount, checkpoint and key in the customer’s language', () => {
    for (const language of ['en', 'es']) {
      const text = customerMessage({ ...told, language });
      for (const part of ['Norrin Lane Garage', '7', '$412.50', '23', 'one two three', 'four five six'])
        expect(text).toContain(part);
      expect(text).not.toMatch(/\{\s*\$?\w+\s*\}/);
    }
    expect(customerMessage({ ...told, language: 'es' })).toContain('Usted aprobó');
  });

  it('says nothing of an amount that was not approved', () => {
    expect(customerMessage({ ...told, amount: '' })).not.toContain('approved');
  });
});

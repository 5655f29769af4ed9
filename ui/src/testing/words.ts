import { readWords } from '../words/catalogue';

// Tests read sentences of both languages from their first line on.
await Promise.all([readWords('en'), readWords('es')]);

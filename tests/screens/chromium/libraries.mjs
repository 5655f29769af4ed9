// The libraries lie with the screens they test: ui/node_modules, by its lock file.
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';

const require = createRequire(fileURLToPath(new URL('../../../ui/package.json', import.meta.url)));

export const { chromium } = require('playwright-core');
export const { AxeBuilder } = require('@axe-core/playwright');

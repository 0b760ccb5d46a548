import { defineConfig } from 'vitest/config';
import { textImports } from '../vitest.config.mts';

/** What is too long for every run of the tests: `npm run simulate`, `npm run edits`, `npm run seasons`, `npm run fuzz`. New cases each time, unless SEED says which. */
export default defineConfig({
  plugins: [textImports],
  test: { include: ['tests/**/*.long.ts'], testTimeout: 3_600_000 },
});

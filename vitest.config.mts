import { readFileSync } from 'node:fs';
import { defineConfig } from 'vitest/config';

/** `import text from './x.graft' with { type: 'text' }`: tsc and esbuild know it, vitest needs to be told. */
export const textImports = {
  name: 'text-imports',
  enforce: 'pre' as const,
  load(id: string) {
    const path = id.split('?')[0] ?? id;
    if (/\.(graft|md|css)$/.test(path)) return `export default ${JSON.stringify(readFileSync(path, 'utf8'))};`;
    return undefined;
  },
};

export default defineConfig({
  plugins: [textImports],
  test: {
    projects: [
      {
        extends: true,
        test: {
          name: 'code',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/editor/**'],
          setupFiles: ['tests/support/seed.ts'],
          testTimeout: 30_000,
        },
      },
      {
        extends: true,
        test: {
          name: 'browser',
          include: ['tests/editor/**/*.test.ts'],
          testTimeout: 180_000,
          hookTimeout: 180_000,
          // One browser at a time: two cores are not enough for more.
          fileParallelism: false,
        },
      },
    ],
  },
});

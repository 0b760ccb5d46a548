import { readFileSync } from 'node:fs';
import { defineConfig } from 'vitest/config';

/** `import text from './x.graft' with { type: 'text' }`: tsc and esbuild know it, vitest needs to be told. */
const textImports = {
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
  test: { include: ['tests/**/*.test.ts'], testTimeout: 30_000 },
});

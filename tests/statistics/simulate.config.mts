import { defineConfig } from 'vitest/config';

/** `npm run simulate`: too long for every run of the tests. */
export default defineConfig({ test: { include: ['tests/statistics/*.long.ts'], testTimeout: 900_000 } });

import { defineConfig } from 'vite';

export default defineConfig({
  root: import.meta.dirname,
  base: './',
  logLevel: 'error',
  build: {
    target: 'esnext',
    assetsInlineLimit: 0,
    modulePreload: false,
    outDir: '../../dist/page',
    emptyOutDir: true,
    chunkSizeWarningLimit: 20_000,
  },
  worker: { format: 'es' },
});

import preact from '@preact/preset-vite';
import { defineConfig } from 'vite';
import { shellFiles } from './shell-files.ts';

/** The page is built into dist/web, from where the server hands it out. */
export default defineConfig({
  root: import.meta.dirname,
  base: '/',
  plugins: [preact(), shellFiles()],
  build: {
    outDir: '../../dist/web',
    emptyOutDir: true,
    target: 'es2022',
    sourcemap: false,
    reportCompressedSize: false,
  },
});

import type { Plugin } from 'vite';

/** What the page needs beside its bundle to open without the server. */
const besides = ['/', '/icon.svg', '/manifest.webmanifest'];

/** Builds the service worker beside the page, and writes into it which files it is to keep. */
export function shellFiles(): Plugin {
  return {
    name: 'shell-files',
    apply: 'build',
    enforce: 'post',
    buildStart() {
      const id = new URL('./sw/sw.ts', import.meta.url).pathname;
      this.emitFile({ type: 'chunk', id, fileName: 'sw.js' });
    },
    async generateBundle(_options, bundle) {
      const { 'sw.js': worker, ...page } = bundle;
      if (worker?.type !== 'chunk') throw new Error('the service worker was not built');
      const names = Object.keys(page).filter((name) => name !== 'index.html');
      const paths = [...besides, ...names.map((name) => `/${name}`)].sort();
      const version = await digest(
        Object.values(page).map((each) => (each.type === 'chunk' ? each.code : each.source)),
      );
      worker.code = `const shellFiles = ${JSON.stringify({ version, paths })};\n${worker.code}`;
    },
  };
}

/** Differs whenever any file does. */
async function digest(parts: (string | Uint8Array)[]): Promise<string> {
  const bytes = await new Blob(parts as BlobPart[]).arrayBuffer();
  const hash = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return [...hash.subarray(0, 6)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

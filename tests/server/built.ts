import type { FastifyInstance } from 'fastify';
import { buildApp } from '../../dashboard/server/app.ts';
import { Access } from '../../dashboard/server/http/access.ts';
import { Ingest } from '../../dashboard/server/ingest/ingest.ts';
import { Floor } from '../../dashboard/server/live/floor.ts';
import { MemoryStore } from '../../dashboard/server/store/memory-store.ts';
import type { About } from '../../shared/protocol/messages.ts';
import { about, bay, PlainWatch } from './given.ts';

export interface Built {
  store: MemoryStore;
  app: FastifyInstance;
  ingest: Ingest;
  close(): Promise<void>;
}

/** The HTTP side over a store in memory that knows one sensor; it is asked by `inject`. */
export async function buildServer(of: About = about()): Promise<Built> {
  const store = new MemoryStore();
  store.saveAbout(bay, 'harbour-lane', of);
  const floor = new Floor(store, () => 0);
  const makeWatch = (...given: ConstructorParameters<typeof PlainWatch>) =>
    new PlainWatch(...given);
  const ingest = new Ingest({ store, floor, link: { publish() {} }, makeWatch, say() {} });
  ingest.start();
  const parts = { store, floor, ingest, access: new Access(false) };
  const app = await buildApp({ ...parts, version: '0', webRoot: 'no-such-folder' });
  return {
    ...{ store, app, ingest },
    async close() {
      ingest.stop();
      await app.close();
    },
  };
}

import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox';
import { Problem } from '../../../shared/protocol/http.ts';
import { ShopSettings } from '../../../shared/protocol/http-settings.ts';
import { say } from '../../../shared/rules/say.ts';
import { audited } from '../people/audited.ts';
import { differences } from '../people/differences.ts';
import type { Store } from '../store/store.ts';
import { ProblemError } from './problems.ts';

/** What holds for the whole shop: mains, units, language, time zone. */
export const settingsRoutes = (store: Store): FastifyPluginAsyncTypebox =>
  async function settings(app) {
    const tags = ['shop'];
    app.get('/settings', { schema: { response: { 200: ShopSettings }, tags } }, () =>
      store.settings.get(),
    );
    app.put(
      '/settings',
      { schema: { body: ShopSettings, response: { 200: ShopSettings, 400: Problem }, tags } },
      (request) => {
        const after = request.body;
        checkZone(after.timeZone);
        return audited(store, request, (note) => {
          const before = store.settings.get();
          store.settings.set(after);
          const said = say('settingsChanged', differences(before, after));
          if (JSON.stringify(before) !== JSON.stringify(after))
            note({ area: 'settings', subject: 'shop', ...said, before, after });
          return after;
        });
      },
    );
  };

function checkZone(zone: string | null): void {
  if (zone === null) return;
  try {
    new Intl.DateTimeFormat('en', { timeZone: zone });
  } catch {
    throw new ProblemError('bad-request', `timeZone "${zone}" is no IANA time zone`);
  }
}

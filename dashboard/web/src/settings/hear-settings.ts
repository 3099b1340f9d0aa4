import { shopSettings } from '../parts/api.ts';
import { heardShopSettings, knowsShop } from '../parts/preferences.ts';

/** A first visit waits no longer than this to know the shop's language. */
const longestWaitMs = 1_000;

/** Asks for the shop's settings; a device that knows some draws by these meanwhile. */
export async function hearSettings(): Promise<void> {
  const heard = shopSettings().then(heardShopSettings, () => {
    // No server, or the access code is wanted first: what is known holds.
  });
  if (knowsShop()) return;
  await Promise.race([heard, new Promise((resolve) => setTimeout(resolve, longestWaitMs))]);
}

import { nowMs } from '../live/standing.ts';
import { clock } from '../parts/format.ts';
import { Pick } from '../parts/pick.tsx';
import {
  chosenLanguage,
  chosenUnits,
  chosenZone,
  languages,
  shopSettings,
} from '../parts/preferences.ts';
import { chosenTheme } from '../parts/theme.ts';
import { words } from '../parts/words.ts';
import { ShopPart } from './shop-part.tsx';
import { zones } from './zones.ts';

/** What this device has of its own, and what the whole shop has. */
export function SettingsView() {
  return (
    <main class="narrow shop">
      <h1 tabIndex={-1}>{words.settings.heading}</h1>
      <Device />
      <ShopPart />
    </main>
  );
}

/** Takes effect at once; a language when the page is loaded anew, which it is. */
function Device() {
  const { settings } = words;
  const shop = shopSettings.value;
  const shops = shop.language === null ? settings.asBrowser : languages[shop.language];
  const looks = Object.entries(settings.looks);
  return (
    <section class="rows">
      <h2>{settings.device}</h2>
      <Pick
        label={settings.language}
        value={chosenLanguage.value}
        options={[['', settings.asShop(shops)], ...Object.entries(languages)]}
        onPick={(value) => {
          chosenLanguage.value = value;
          location.reload();
        }}
      />
      <Pick
        label={settings.units}
        value={chosenUnits.value}
        options={[
          ['', settings.asShop(settings.unitNames[shop.units])],
          ...Object.entries(settings.unitNames),
        ]}
        hint={settings.unitsWhat}
        onPick={(value) => {
          chosenUnits.value = value;
        }}
      />
      <Pick
        label={settings.zone}
        value={chosenZone.value}
        options={[
          ['', settings.asShop(shop.timeZone ?? settings.ownZone)],
          ...zones().map((zone) => [zone, zone] as const),
        ]}
        hint={settings.now(clock(nowMs.value))}
        onPick={(value) => {
          chosenZone.value = value;
        }}
      />
      <Pick
        label={settings.look}
        value={chosenTheme.value}
        options={looks}
        onPick={(value) => {
          chosenTheme.value = value;
        }}
      />
    </section>
  );
}

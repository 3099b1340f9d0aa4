import { useEffect, useState } from 'preact/hooks';
import type { ShopSettings } from '../../../../shared/protocol/http-settings.ts';
import { shopSettings as askSettings, saveShopSettings } from '../parts/api.ts';
import { Pick } from '../parts/pick.tsx';
import { heardShopSettings, languages, shopSettings } from '../parts/preferences.ts';
import { words } from '../parts/words.ts';
import { zones } from './zones.ts';

/** Settings of the whole shop: changed here, kept when they are saved. */
export function ShopPart() {
  const { settings } = words;
  // Apart from what the shop has, which may be heard after the first choice was made.
  const [changed, setChanged] = useState<Partial<ShopSettings>>({});
  const draft = { ...shopSettings.value, ...changed };
  const [fault, setFault] = useState('');
  const [saved, setSaved] = useState(false);
  useEffect(() => {
    askSettings().then(heardShopSettings, (error: Error) => setFault(error.message));
  }, []);
  const change = (part: Partial<ShopSettings>) => {
    setChanged((before) => ({ ...before, ...part }));
    setSaved(false);
  };
  const save = async (event: Event) => {
    event.preventDefault();
    try {
      heardShopSettings(await saveShopSettings(draft));
      setChanged({});
      setFault('');
      setSaved(true);
    } catch (error) {
      setFault((error as Error).message);
    }
  };
  return (
    <form class="rows" onSubmit={save}>
      <h2>{settings.shop}</h2>
      <p>{settings.shopWhat}</p>
      <Fields draft={draft} change={change} />
      <p class="fault" role="alert">
        {fault}
      </p>
      <p role="status">{saved && settings.saved}</p>
      <button type="submit" class="main">
        {settings.save}
      </button>
    </form>
  );
}

interface FieldsProps {
  draft: ShopSettings;
  change(part: Partial<ShopSettings>): void;
}

function Fields({ draft, change }: FieldsProps) {
  const { settings } = words;
  const { hertz } = settings;
  return (
    <>
      <Pick
        label={settings.mains}
        value={`${draft.hertz ?? 'none'}`}
        options={[
          ['none', hertz.none],
          ['50', hertz[50]],
          ['60', hertz[60]],
        ]}
        hint={settings.mainsWhat}
        onPick={(value) => change({ hertz: value === '50' ? 50 : value === '60' ? 60 : null })}
      />
      <Pick
        label={settings.units}
        value={draft.units}
        options={[
          ['us', settings.unitNames.us],
          ['metric', settings.unitNames.metric],
        ]}
        onPick={(units) => change({ units })}
      />
      <Pick
        label={settings.language}
        value={draft.language ?? ''}
        options={[
          ['', settings.asBrowser],
          ['en', languages.en],
          ['de', languages.de],
        ]}
        onPick={(value) => change({ language: value === '' ? null : value })}
      />
      <Pick
        label={settings.zone}
        value={draft.timeZone ?? ''}
        options={[['', settings.ownZone], ...zones().map((zone) => [zone, zone] as const)]}
        onPick={(value) => change({ timeZone: value === '' ? null : value })}
      />
    </>
  );
}

import { computed } from '@preact/signals';
import type { ShopSettings } from '../../../../shared/protocol/http-settings.ts';
import { kept } from './kept.ts';

/** Languages there are, each by its own name. */
export const languages = { en: 'English', de: 'Deutsch' } as const;
export type Language = keyof typeof languages;
export type Units = ShopSettings['units'];

/** What this device was told; empty: as the shop. */
export const chosenLanguage = kept('language', '');
export const chosenUnits = kept('units', '');
export const chosenZone = kept('zone', '');

/** Before anybody has settled anything. */
const unsettled: ShopSettings = { hertz: null, units: 'us', language: null, timeZone: null };

/** The shop's settings as this device last heard them: it draws before the server has answered. */
const shopText = kept('shop', '');

export const shopSettings = computed<ShopSettings>(() => {
  try {
    return { ...unsettled, ...(JSON.parse(shopText.value) as ShopSettings) };
  } catch {
    return unsettled;
  }
});

export const knowsShop = (): boolean => shopText.value !== '';

export function heardShopSettings(settings: ShopSettings): void {
  shopText.value = JSON.stringify(settings);
}

export const units = computed<Units>(() =>
  chosenUnits.value === 'us' || chosenUnits.value === 'metric'
    ? chosenUnits.value
    : shopSettings.value.units,
);

/** Undefined: this device's own. A zone that this browser does not know counts as not chosen. */
export const timeZone = computed<string | undefined>(() =>
  [chosenZone.value, shopSettings.value.timeZone].find(
    (zone): zone is string => !!zone && isZone(zone),
  ),
);

function isZone(zone: string): boolean {
  try {
    return new Intl.DateTimeFormat('en', { timeZone: zone }) !== null;
  } catch {
    return false;
  }
}

/** What the browser asks for, first wish first. */
const asked = (): readonly string[] => globalThis.navigator?.languages ?? [];

/** The language to speak: this device's, the shop's, the browser's first that is known, English. */
export function language(): Language {
  const wishes = [chosenLanguage.value, shopSettings.value.language ?? '', ...asked()];
  const known = wishes.map((tag) => tag.slice(0, 2)).find((tag) => tag in languages);
  return (known as Language | undefined) ?? 'en';
}

/** The language with the browser's country, where it names one: dates are written by country. */
export const localeOf = (spoken: Language): string =>
  asked().find((tag) => tag.startsWith(`${spoken}-`)) ?? spoken;

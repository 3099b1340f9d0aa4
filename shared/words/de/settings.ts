import type { settings as english } from '../en/settings.ts';

export const settings: typeof english = {
  heading: 'Einstellungen',
  device: 'Dieses Gerät',
  shop: 'Der ganze Betrieb',
  shopWhat: 'Gilt für jedes Gerät, das nichts Eigenes hat. Ändern darf es, wer leitet.',
  asShop: (shops) => `wie der Betrieb: ${shops}`,
  language: 'Sprache',
  asBrowser: 'wie der Browser des Geräts es wünscht',
  units: 'Längen und Querschnitte',
  unitNames: { us: 'Fuß und AWG', metric: 'Meter und mm²' },
  unitsWhat:
    'Was eingegeben wurde, bleibt, wie es war. In anderen Einheiten steht es daneben, und kein ' +
    'Querschnitt gilt als der nächste der anderen Norm.',
  zone: 'Zeitzone',
  ownZone: 'die des jeweiligen Geräts',
  now: (clock) => `Dort ist es jetzt ${clock}.`,
  look: 'Hell oder dunkel',
  looks: { device: 'wie das Gerät', light: 'hell', dark: 'dunkel' },
  mains: 'Netzfrequenz',
  hertz: { none: 'wie gemessen', 50: '50 Hz', 60: '60 Hz' },
  mainsWhat:
    'Für Pläne, Speiseleitungen und Abhilfen, wo ein Stromkreis keine nennt und dort keine ' +
    'gemessen wird. Auch neue Stromkreise beginnen mit ihr. Nennt ein Stromkreis keine, gilt für ' +
    'seine Lichtbögen, was der Sensor misst; ein Leistungsschild wird abgeschrieben, wie es ist.',
  save: 'Für den Betrieb speichern',
  saved: 'Gespeichert.',
};

/** What a device and the shop have settled. */
export const settings = {
  heading: 'Settings',
  device: 'This device',
  shop: 'The whole shop',
  shopWhat: 'Holds for every device that has nothing of its own. A lead may change it.',
  asShop: (shops: string) => `as the shop: ${shops}`,
  language: 'Language',
  asBrowser: 'as each device’s browser asks',
  units: 'Lengths and wire sizes',
  unitNames: { us: 'feet and AWG', metric: 'metres and mm²' },
  unitsWhat:
    'What was typed stays as it was typed. In other units it is shown beside, and no size is ' +
    'taken for the nearest one of the other standard.',
  zone: 'Time zone',
  ownZone: 'as each device’s own',
  now: (clock: string) => `It is ${clock} there now.`,
  look: 'Light or dark',
  looks: { device: 'as the device', light: 'light', dark: 'dark' },
  mains: 'Mains frequency',
  hertz: { none: 'as it is measured', 50: '50 Hz', 60: '60 Hz' },
  mainsWhat:
    'For what no meter has told yet: plans, outlets without a reading, and new plates. A circuit ' +
    'that names its own keeps it.',
  save: 'Save for the shop',
  saved: 'Saved.',
};

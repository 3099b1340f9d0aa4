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
    'For plans, feeders and remedies, where a circuit names no frequency and none is measured ' +
    'there. It is also filled in for new circuits. Arcs at a circuit that names none go by what ' +
    'the sensor measures; a plate is copied as it stands.',
  save: 'Save for the shop',
  saved: 'Saved.',
};

import { fieldName } from './field-names.ts';

const verdicts = {
  adequate: 'Adequate',
  marginal: 'Marginal',
  unproven: 'Unproven',
  underpowered: 'Underpowered',
  unsuited: 'Wrong voltage: do not plug in',
};

/** What several views share: verdicts, the ladder, charts, sizes, what went wrong on the way. */
export const parts = {
  verdicts,
  /** A good verdict is good where it was measured: at the machine unless it says so. */
  verdictAt: (
    verdict: keyof typeof verdicts,
    place: 'machine' | 'outlet' | 'unstated' = 'machine',
  ): string => {
    const good = verdict === 'adequate' || verdict === 'marginal';
    if (!good || place === 'machine') return verdicts[verdict];
    return `${verdicts[verdict]} at the ${place === 'outlet' ? 'outlet' : 'sensor'}`;
  },
  processes: {
    'mig-steel': 'MIG on steel',
    'mig-aluminium': 'MIG on aluminium',
    'mig-braze': 'MIG brazing',
  },
  /** Of a plate, a circuit or a feeder, by its path. */
  field: fieldName,
  /** Of a conductor. */
  sizeUnknown: 'size not known',
  /** Where a section lies among the sizes of the other standard. */
  among: {
    between: (thin: string, thick: string) => `between ${thin} and ${thick} AWG`,
    under: (awg: string) => `thinner than ${awg} AWG`,
    over: (awg: string) => `${awg} AWG or thicker`,
  },
  ladder: {
    permits: (low: string, high: string) => `The plate permits ${low} to ${high}.`,
    noLoad: (volts: string) => `No load ${volts}.`,
    arc: (mean: string, lowest: string) => `Arc mean ${mean}, lowest ${lowest}.`,
    foretold: (volts: string, low: string, high: string) =>
      `Foretold at full load ${volts}, between ${low} and ${high}.`,
  },
  chart: {
    tools: {
      '+': 'Closer',
      '-': 'Wider',
      ArrowLeft: 'Earlier',
      ArrowRight: 'Later',
      Home: 'All',
    },
    figures: 'The figures',
    figuresThinned: (step: number) => `The figures, one in ${step}`,
    time: 'time',
  },
  faults: {
    noAnswer: 'The server does not answer.',
    refused: (status: number) => `The server refused (${status}).`,
    strangeWaveform: 'The waveform came in a shape that this page does not know.',
  },
};

import type { parts as english } from '../en/parts.ts';
import { fieldName } from './field-names.ts';

const verdicts = {
  adequate: 'Ausreichend',
  marginal: 'Grenzwertig',
  unproven: 'Nicht belegt',
  underpowered: 'Unterversorgt',
  unsuited: 'Falsche Spannung: nicht einstecken',
};

export const parts: typeof english = {
  verdicts,
  verdictAt: (verdict, place = 'machine') => {
    const good = verdict === 'adequate' || verdict === 'marginal';
    if (!good || place === 'machine') return verdicts[verdict];
    return `${verdicts[verdict]} ${place === 'outlet' ? 'an der Steckdose' : 'am Sensor'}`;
  },
  processes: {
    'mig-steel': 'MIG/MAG an Stahl',
    'mig-aluminium': 'MIG an Aluminium',
    'mig-braze': 'MIG-Löten',
  },
  field: fieldName,
  sizeUnknown: 'Querschnitt unbekannt',
  among: {
    between: (thin, thick) => `zwischen ${thin} und ${thick} AWG`,
    under: (awg) => `dünner als ${awg} AWG`,
    over: (awg) => `${awg} AWG oder dicker`,
  },
  ladder: {
    permits: (low, high) => `Das Leistungsschild erlaubt ${low} bis ${high}.`,
    noLoad: (volts) => `Ohne Last ${volts}.`,
    arc: (mean, lowest) => `Lichtbogen im Mittel ${mean}, niedrigster Wert ${lowest}.`,
    foretold: (volts, low, high) =>
      `Bei Volllast vorhergesagt ${volts}, zwischen ${low} und ${high}.`,
  },
  chart: {
    tools: {
      '+': 'Näher',
      '-': 'Weiter',
      ArrowLeft: 'Früher',
      ArrowRight: 'Später',
      Home: 'Alles',
    },
    figures: 'Die Zahlen',
    figuresThinned: (step) => `Die Zahlen, jede ${step}. Zeile`,
    time: 'Zeit',
  },
  faults: {
    noAnswer: 'Der Server antwortet nicht.',
    refused: (status) => `Der Server hat abgelehnt (${status}).`,
    strangeWaveform: 'Die Kurvenform kam in einer Gestalt, die diese Seite nicht kennt.',
  },
};

import { fulmar, gannet, puffin, skua, utility208, utility240 } from './parts.ts';

/** A 240 V welder circuit as an electrician would lay it today. */
export const goodCircuit = {
  name: '240 V welder outlet',
  volts: 240,
  breakerAmps: 50,
  receptacleAmps: 50,
  dedicated: true,
  branch: { awg: 6, metal: 'copper', feet: 45 },
  cords: [{ awg: 8, feet: 25 }],
};

/** A steel job on the good circuit; other scenarios change what they are about. */
export const goodBay = {
  name: 'bay',
  plate: skua.plate,
  circuit: goodCircuit,
  wires: 'two',
  supply: utility240,
  machine: skua.machine,
  work: {
    process: 'short-circuit',
    settings: [{ fromS: 0, amps: 150 }],
    firstArcS: 2,
    beadShare: 0.6,
    beadS: [3, 8],
    pauseS: [3, 7],
  },
  sensors: [{ name: 'bay', at: 'machine', fullScaleAmps: 200 }],
};

export const healthySteel = {
  name: 'healthy-steel',
  says: 'steel, short-circuit transfer, on a good 240 V circuit',
  bays: [goodBay],
};

export const healthyAluminium = {
  name: 'healthy-aluminium',
  says: 'aluminium, pulse, corrected power factor, on a good 240 V circuit',
  bays: [
    {
      ...goodBay,
      plate: gannet.plate,
      machine: gannet.machine,
      work: {
        ...goodBay.work,
        process: 'pulse',
        settings: [{ fromS: 0, amps: 175 }],
        perS: [80, 130],
        beadShare: 0.8,
      },
    },
  ],
};

export const healthyBraze = {
  name: 'healthy-braze',
  says: 'silicon-bronze brazing of thin panels, on a good 240 V circuit',
  bays: [
    {
      ...goodBay,
      plate: gannet.plate,
      machine: gannet.machine,
      work: {
        ...goodBay.work,
        process: 'braze',
        settings: [{ fromS: 0, amps: 85 }],
        perS: [40, 70],
      },
    },
  ],
};

export const healthyTransformer = {
  name: 'healthy-transformer',
  says: 'steel with an old tapped transformer machine, on a good 240 V circuit',
  bays: [
    {
      ...goodBay,
      plate: puffin.plate,
      machine: puffin.machine,
      work: { ...goodBay.work, settings: [{ fromS: 0, amps: 140 }] },
    },
  ],
};

/** A 208 V bench circuit as an electrician would lay it today. */
export const benchBay = {
  ...goodBay,
  plate: fulmar.plate,
  circuit: {
    name: '208 V three-phase bench',
    volts: 208,
    phases: 3,
    breakerAmps: 40,
    receptacleAmps: 50,
    dedicated: true,
    branch: { awg: 8, metal: 'copper', feet: 60 },
    cords: [{ awg: 8, feet: 25 }],
  },
  wires: 'three-phase',
  supply: utility208,
  machine: fulmar.machine,
  work: { ...goodBay.work, settings: [{ fromS: 0, amps: 200 }] },
};

export const healthyBench = {
  name: 'healthy-bench',
  says: 'steel on a good three-phase bench at 208 V',
  bays: [benchBay],
};

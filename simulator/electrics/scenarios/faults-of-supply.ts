import { benchBay, goodBay, goodCircuit } from './healthy.ts';
import { generator, skua, tern, utility120, utility240 } from './parts.ts';

const heavy = { ...goodBay.work, settings: [{ fromS: 0, amps: 175 }] };

export const longThinCord = {
  name: 'long-thin-cord',
  says: 'a 120 V machine at the end of 75 ft of 16 AWG cord',
  bays: [
    {
      ...goodBay,
      plate: tern.plate,
      circuit: {
        name: '120 V general outlet',
        volts: 120,
        breakerAmps: 20,
        receptacleAmps: 20,
        branch: { awg: 12, metal: 'copper', feet: 65 },
        cords: [{ awg: 16, feet: 75 }],
      },
      supply: utility120,
      machine: tern.machine,
      work: { ...goodBay.work, settings: [{ fromS: 0, amps: 86 }], beadS: [3, 6] },
      sensors: [
        { name: 'bay', at: 'machine', fullScaleAmps: 120 },
        { name: 'wall', at: 'outlet', fullScaleAmps: 120 },
      ],
      faults: [{ kind: 'long-thin-cord', says: '75 ft of 16 AWG where 12 AWG belongs' }],
    },
  ],
};

export const sharedCircuit = {
  name: 'shared-circuit',
  says: 'a compressor starts on an outlet that ought to be dedicated',
  bays: [
    {
      ...goodBay,
      circuit: { ...goodCircuit, branch: { awg: 8, metal: 'copper', feet: 80 } },
      neighbours: [
        {
          kind: 'motor',
          name: 'compressor',
          at: 'outlet',
          watts: 2600,
          startMultiple: 5.5,
          startS: 0.5,
          firstOnS: 5,
          onS: [9, 16],
          offS: [6, 12],
        },
      ],
      faults: [{ kind: 'shared-circuit', says: 'a compressor on the same branch' }],
    },
  ],
};

export const thinBranch = {
  name: 'thin-branch',
  says: 'a heavy bead over 210 ft of 14 AWG branch wire',
  bays: [
    {
      ...goodBay,
      circuit: {
        ...goodCircuit,
        breakerAmps: 30,
        receptacleAmps: 30,
        branch: { awg: 14, metal: 'copper', feet: 210 },
      },
      work: heavy,
      faults: [{ kind: 'thin-branch', says: '14 AWG over 210 ft' }],
    },
  ],
};

export const wrongClass = {
  name: '208-under-240',
  says: 'a 240 V machine on two legs of a 208 V service',
  bays: [
    {
      ...goodBay,
      circuit: { ...goodCircuit, name: '208 V outlet', volts: 208 },
      supply: { ...utility240, volts: 208.5 },
      faults: [{ kind: '208-under-240', says: 'the plate asks for 240 V' }],
    },
  ],
};

export const weakGenerator = {
  name: 'weak-generator',
  says: 'a small engine set under a full-size machine',
  bays: [
    {
      ...goodBay,
      circuit: {
        name: 'generator set',
        volts: 240,
        breakerAmps: 30,
        receptacleAmps: 30,
        dedicated: true,
        cords: [{ awg: 10, feet: 50 }],
      },
      supply: {
        ...generator,
        watts: 5000,
        ohmsR: 0.4,
        ohmsX: 0.75,
        sagPercent: 16,
        ceilingPercent: 6,
        volts: 241,
      },
      work: { ...heavy, settings: [{ fromS: 0, amps: 155 }] },
      faults: [{ kind: 'weak-generator', says: 'a 5 kW set under a 5 kW machine' }],
    },
  ],
};

export const openNeutral = {
  name: 'open-neutral',
  says: 'the service neutral comes loose: one leg rises, the other falls',
  bays: [
    {
      ...goodBay,
      circuit: { ...goodCircuit, name: '120/240 V split-phase outlet' },
      wires: 'split',
      supply: { ...utility240, ohmsR: 0.005, ohmsX: 0.006 },
      neighbours: [
        { kind: 'heater', name: 'lamps', at: 'panel', lines: [1], watts: 700 },
        {
          kind: 'heater',
          name: 'oven',
          at: 'panel',
          lines: [2],
          watts: 1500,
          firstOnS: 4,
          onS: [8, 14],
          offS: [5, 9],
        },
        { kind: 'heater', name: 'fans', at: 'panel', lines: [2], watts: 350 },
      ],
      events: [{ kind: 'neutral-opens', atS: 9, ohms: 60 }],
      sensors: [{ name: 'bay', at: 'outlet', fullScaleAmps: 200 }],
      faults: [],
    },
  ],
};

export const lostPhase = {
  name: 'lost-phase',
  says: 'a three-phase bench loses its second phase',
  bays: [
    {
      ...benchBay,
      work: { ...benchBay.work, settings: [{ fromS: 0, amps: 150 }] },
      events: [{ kind: 'phase-lost', atS: 9, phase: 2 }],
    },
  ],
};

export const looseTerminal = {
  name: 'loose-terminal',
  says: 'a worn receptacle whose contact wanders as it heats',
  bays: [
    {
      ...goodBay,
      looseOhms: 0.75,
      work: heavy,
      faults: [{ kind: 'loose-terminal', says: 'about 0.75 ohm in a contact' }],
    },
  ],
};

export const noStrike = {
  name: 'no-strike',
  says: 'a supply so soft that the machine drops out and the arc will not stay',
  bays: [
    {
      ...goodBay,
      plate: skua.plate,
      circuit: {
        ...goodCircuit,
        branch: { awg: 14, metal: 'copper', feet: 180 },
        cords: [{ awg: 14, feet: 200 }],
      },
      supply: { ...utility240, volts: 222 },
      work: { ...heavy, settings: [{ fromS: 0, amps: 180 }] },
      faults: [{ kind: 'no-strike', says: '380 ft of 14 AWG' }],
    },
  ],
};

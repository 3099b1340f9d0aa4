import { goodBay, goodCircuit } from './healthy.ts';

export const lightBead = {
  name: 'light-bead',
  says: 'light beads look well on wiring that a heavy one would bring down',
  bays: [
    {
      ...goodBay,
      circuit: {
        ...goodCircuit,
        branch: { awg: 12, metal: 'copper', feet: 230 },
        cords: [{ awg: 12, feet: 150 }],
        breakerAmps: 30,
        receptacleAmps: 30,
      },
      work: { ...goodBay.work, settings: [{ fromS: 0, amps: 60 }] },
      faults: [{ kind: 'light-bead', says: 'the beads are too light to prove the circuit' }],
    },
  ],
};

export const overrunDuty = {
  name: 'overrun-duty',
  says: 'long beads with hardly a pause, far beyond the duty of the plate',
  bays: [
    {
      ...goodBay,
      work: {
        ...goodBay.work,
        settings: [{ fromS: 0, amps: 170 }],
        beadShare: 1,
        beadS: [22, 45],
        pauseS: [5, 10],
      },
      faults: [{ kind: 'overrun-duty', says: 'about 80 % at a setting rated for 30 %' }],
    },
  ],
};

/** The coupons that passed were made at 110 A; the band is a tenth either side of their power. */
const coupon = { watts: [2400, 2950] };

export const coldSetUp = {
  name: 'cold-set-up',
  says: 'after coupons at 110 A the machine is turned down',
  bays: [
    {
      ...goodBay,
      work: {
        ...goodBay.work,
        settings: [
          { fromS: 0, amps: 110 },
          { fromS: 18, amps: 78 },
        ],
      },
      coupon,
      faults: [{ kind: 'cold-set-up', says: '78 A where the coupon passed at 110 A' }],
    },
  ],
};

export const hotSetUp = {
  name: 'hot-set-up',
  says: 'after coupons at 110 A the machine is turned up',
  bays: [
    {
      ...goodBay,
      work: {
        ...goodBay.work,
        settings: [
          { fromS: 0, amps: 110 },
          { fromS: 18, amps: 150 },
        ],
      },
      coupon,
      faults: [{ kind: 'hot-set-up', says: '150 A where the coupon passed at 110 A' }],
    },
  ],
};

/**
 * NEC table 310.16, 2023, 30 °C, up to three loaded conductors: 60, 75 and 90 °C columns of copper,
 * then of aluminium; 0 where the table has none.
 */
export const fixedAmps: readonly (readonly [awg: string, ...number[]])[] = [
  ['14', 15, 20, 25, 0, 0, 0],
  ['12', 20, 25, 30, 15, 20, 25],
  ['10', 30, 35, 40, 25, 30, 35],
  ['8', 40, 50, 55, 35, 40, 45],
  ['6', 55, 65, 75, 40, 50, 55],
  ['4', 70, 85, 95, 55, 65, 75],
  ['3', 85, 100, 115, 65, 75, 85],
  ['2', 95, 115, 130, 75, 90, 100],
  ['1', 110, 130, 145, 85, 100, 115],
  ['1/0', 125, 150, 170, 100, 120, 135],
  ['2/0', 145, 175, 195, 115, 135, 150],
  ['3/0', 165, 200, 225, 130, 155, 175],
  ['4/0', 195, 230, 260, 150, 180, 205],
];
/** The same table over 4/0, in kcmil. */
export const kcmilAmps: readonly (readonly [kcmil: number, ...number[]])[] = [
  [250, 215, 255, 290, 170, 205, 230],
  [350, 260, 310, 350, 210, 250, 280],
  [400, 280, 335, 380, 225, 270, 305],
  [500, 320, 380, 430, 260, 310, 350],
];
/**
 * NEC table 400.5(A)(1), 60 °C cord, 30 °C: column A, three loaded conductors, and B, two. B from
 * 18 to 12 AWG after UL text, the rest from memory. Not for heater cords, whose columns differ.
 */
export const cordAmps: readonly (readonly [awg: string, three: number, two: number])[] = [
  ['18', 7, 10],
  ['17', 9, 12],
  ['16', 10, 13],
  ['15', 12, 16],
  ['14', 15, 18],
  ['13', 17, 21],
  ['12', 20, 25],
  ['11', 23, 27],
  ['10', 25, 30],
  ['9', 29, 34],
  ['8', 35, 40],
  ['7', 40, 47],
  ['6', 45, 55],
  ['5', 52, 62],
  ['4', 60, 70],
  ['3', 70, 82],
  ['2', 80, 95],
];
/**
 * Metric flexible cords, 30 °C, two loaded conductors, then three. From 4 mm² 60 °C rubber after
 * BS 7671:2008, found in a cable maker's list; thinner ones IEC 60364-5-52, method B2, and under
 * 1.5 mm² the flexible cords of BS 7671, all from memory.
 */
export const metricCordAmps: readonly (readonly [mm2: number, two: number, three: number])[] = [
  [0.75, 6, 6],
  [1, 10, 10],
  [1.5, 16.5, 15],
  [2.5, 23, 20],
  [4, 30, 26],
  [6, 39, 34],
  [10, 51, 47],
  [16, 73, 63],
  [25, 97, 83],
];

/** mm² of copper, then amperes by methods B1, B2 and C. */
type MetricRow = readonly [mm2: number, b1: number, b2: number, c: number];
/**
 * IEC 60364-5-52, tables B.52.2 to B.52.5: copper, 30 °C air. Three loaded, PVC, B2 and C are
 * also in a maker's instruction book, XLPE B1 in a cable maker's list; the rest from memory.
 */
export const metricAmps: Record<'PVC' | 'XLPE', Record<2 | 3, readonly MetricRow[]>> = {
  PVC: {
    2: [
      [1.5, 17.5, 16.5, 19.5],
      [2.5, 24, 23, 27],
      [4, 32, 30, 36],
      [6, 41, 38, 46],
      [10, 57, 52, 63],
      [16, 76, 69, 85],
      [25, 101, 90, 112],
      [35, 125, 111, 138],
      [50, 151, 133, 168],
      [70, 192, 168, 213],
      [95, 232, 201, 258],
      [120, 269, 232, 299],
    ],
    3: [
      [1.5, 15.5, 15, 17.5],
      [2.5, 21, 20, 24],
      [4, 28, 27, 32],
      [6, 36, 34, 41],
      [10, 50, 46, 57],
      [16, 68, 62, 76],
      [25, 89, 80, 96],
      [35, 110, 99, 119],
      [50, 134, 118, 144],
      [70, 171, 149, 184],
      [95, 207, 179, 223],
      [120, 239, 206, 259],
    ],
  },
  XLPE: {
    2: [
      [1.5, 23, 22, 24],
      [2.5, 31, 30, 33],
      [4, 42, 40, 45],
      [6, 54, 51, 58],
      [10, 75, 69, 80],
      [16, 100, 91, 107],
      [25, 133, 119, 138],
      [35, 164, 146, 171],
      [50, 198, 175, 209],
      [70, 253, 221, 269],
      [95, 306, 265, 328],
      [120, 354, 305, 382],
    ],
    3: [
      [1.5, 20, 19.5, 22],
      [2.5, 28, 26, 30],
      [4, 37, 35, 40],
      [6, 48, 44, 52],
      [10, 66, 60, 71],
      [16, 88, 80, 96],
      [25, 117, 105, 119],
      [35, 144, 128, 147],
      [50, 175, 154, 179],
      [70, 222, 194, 229],
      [95, 269, 233, 278],
      [120, 312, 268, 322],
    ],
  },
};

/**
 * Loaded conductors in one raceway or cable, most, and what is left of their ampacity: NEC table
 * 310.15(C)(1); over 20 from memory.
 */
export const bundleFactors: readonly (readonly [conductors: number, factor: number])[] = [
  [3, 1],
  [6, 0.8],
  [9, 0.7],
  [20, 0.5],
  [30, 0.45],
];
/** Circuits bunched or enclosed together, 1 to 9: IEC 60364-5-52, table B.52.17, from memory. */
export const groupFactors = [1, 0.8, 0.7, 0.65, 0.6, 0.57, 0.54, 0.52, 0.5] as const;
/** Overcurrent device over small conductors, most, A: NEC 240.4(D), aluminium from memory. */
export const smallConductors: Record<
  'copper' | 'aluminium',
  readonly (readonly [string, number])[]
> = {
  copper: [
    ['14', 15],
    ['12', 20],
    ['10', 30],
  ],
  aluminium: [
    ['12', 15],
    ['10', 25],
  ],
};

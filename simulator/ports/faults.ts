/**
 * The ways in which hardware, networks and servers lie: a closed list. Times are microseconds of
 * the board's counter; a fault holds from `from` until `to`. Channels count v1, i1, v2, …
 */
export type Fault =
  | { kind: 'adc-overrun'; from: number; frames: number }
  | { kind: 'adc-stuck-bit'; from: number; to: number; channel: number; bit: number }
  | { kind: 'adc-dropout'; from: number; to: number; channel: number }
  | { kind: 'adc-clip'; from: number; to: number; channel: number; gain: number }
  | { kind: 'adc-swapped'; from: number; to: number; pair: number }
  | { kind: 'adc-silent'; from: number; to: number }
  | { kind: 'clock-step'; from: number; micros: number }
  | { kind: 'clock-drift'; from: number; to: number; ppm: number }
  | { kind: 'clock-backwards'; from: number; micros: number }
  | { kind: 'link-lost'; from: number; to: number }
  | { kind: 'link-slow'; from: number; to: number; micros: number }
  | { kind: 'link-duplicate'; from: number; to: number }
  | { kind: 'link-reorder'; from: number; to: number }
  | { kind: 'link-half-open'; from: number; to: number }
  | { kind: 'broker-restart'; from: number }
  | { kind: 'server-slow'; from: number; to: number; micros: number }
  | { kind: 'flash-error'; from: number; to: number }
  | { kind: 'flash-power-cut'; write: number };

export type FaultKind = Fault['kind'];
export type FaultOf<K extends FaultKind> = Extract<Fault, { kind: K }>;

/** The faults of some kinds. */
export const pickFaults = <K extends FaultKind>(
  faults: readonly Fault[],
  ...kinds: K[]
): FaultOf<K>[] =>
  faults.filter((fault): fault is FaultOf<K> => (kinds as FaultKind[]).includes(fault.kind));

export const faultHolds = (fault: { from: number; to: number }, now: number): boolean =>
  now >= fault.from && now < fault.to;

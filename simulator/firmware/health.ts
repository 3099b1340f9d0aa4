/** Faults of the operation, counted since power-on; sent with every state. */
export class Health {
  /** Times the converter's buffer ran over, and frames lost by it. */
  overruns = 0;
  lostFrames = 0;
  /** Records that nobody had when they were overwritten, refused or spoiled. */
  dropped = 0;
  flashErrors = 0;
  /** Connections after the first. */
  linkRetries = 0;
  /** Times that records were sent again. */
  resends = 0;
  clockSteps = 0;
  /** Starts that the watchdog forced, over all boots. */
  watchdog = 0;
  /** Messages from the server that were no sense. */
  oddMessages = 0;
  /** Counts at a converter's stop; looks (a second each) with a fault of a channel. */
  clipped = 0;
  stuckBits = 0;
  dropouts = 0;
  swapped = 0;
  /** Flags of the last look, see `flag`. */
  flags = 0;
  driftPpm = 0.0;
  /** What the server's time differed by when it last told it. */
  clockOffsetMicros = 0.0;
}

/** Names in the order they are sent. */
export const healthNames = [
  'overruns',
  'lostFrames',
  'dropped',
  'flashErrors',
  'linkRetries',
  'resends',
  'clockSteps',
  'watchdog',
  'oddMessages',
  'clipped',
  'stuckBits',
  'dropouts',
  'swapped',
  'flags',
  'driftPpm',
  'clockOffsetMicros',
] as const satisfies readonly (keyof Health)[];

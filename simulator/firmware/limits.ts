import { assert } from '../../shared/assert.ts';
import { payloadBytesMost, rowsMost, waveFramesMost } from '../../shared/protocol/messages.ts';

/**
 * Every bound of the firmware, with its reason; what must hold between them is asserted below.
 * Sizes in bytes are worked out for the widest sensor: three pairs of 24 bits.
 */

/** A three-phase bench is the widest supply point there is. */
export const maxPairs = 3;
export const maxChannels = 2 * maxPairs;
/** Flash, air and sums are laid out for this; finer converters gain nothing on a mains supply. */
export const maxBits = 24;
/** Below, a half cycle has too few samples to trigger on; above, no board of this class follows. */
export const minRateHz = 1_000;
export const maxRateHz = 200_000;

/** Frames the firmware takes from the converter at once: 100 ms at the usual 10,240/s. */
export const readFrames = 1_024;
/** Reads in one tick: bounds its time, and still drains five times as fast as frames come. */
export const readsPerTick = 8;
/** A wave block: 100 ms at 10,240/s, so that a page sees an arc while it burns. */
export const blockFrames = 1_024;
/** The first of an arc is sent in pieces this short, so that a weak weld shows while it strikes. */
export const promptMs = 20;
/** For this long: the 200 ms that a first judgement is made of, and what deciding takes. */
export const promptSpanMs = 300;
/** Blocks that go to flash after one read: one keeps pace, the second works off the pre-trigger. */
export const blocksPerRead = 2;

/** Half a second before and after an arc: the supply's own voltage, seen on both edges. */
export const preTriggerMs = 500;
export const postTriggerMs = { least: 500, usual: 500, most: 5_000 } as const;

/** Sum of squares is kept in hops of 10 ms; two make the window that the trigger looks at. */
export const hopMs = 10;
/** Five hops: whole half cycles at 50 Hz and at 60 Hz alike, so a steady load reads steady. */
export const steadyHops = 5;
/** Five seconds without a flicker is a load, not an arc. */
export const steadyGroups = 100;
/** Mean square may vary by this much and still count as steady: 2 % r.m.s., a third of what a
 * welding arc flickers by (our own simulated arcs: 5 % and more). */
export const steadyBand = 1.04;
/** Half a second is enough where the mean square is below a sixteenth of what it was: an arc does
 * not burn at a quarter of its current without a flicker. */
export const faintGroups = 10;
export const faintRatio = 16;
/** A steady load above this is kept as evidence for its whole length, see `longestCaptureMs`. */
export const steadyAmps = 5;
/** The sliding window of duty (IEC 60974-1): a current this long is a load of the circuit. */
export const longestCaptureMs = 600_000;
/** Trigger: amperes over idle. The smallest body-shop arc draws ten times the usual setting. */
export const triggerAmps = { least: 0.1, usual: 0.7, most: 20 } as const;
/** Mean square over idle that also must be passed: 1.25 r.m.s., above a noisy idle inverter. */
export const triggerRatio = 1.5625;
/** Below these it is over: half the amperes, 1.12 r.m.s.; between the two nothing changes. */
export const releaseRatio = 1.25;
/** How long below: bridges the extinctions of a short-circuiting wire (20 to 200 a second). */
export const holdHops = 15;
/** Taken for idle at power-on until less is seen: a machine that idles, not one that welds. */
export const idleAtStartAmps = 4;

/** Longest message: a block of the widest sensor (1,024 × 6 × 4 B) and its head. */
export const maxPayloadBytes = blockFrames * maxChannels * 4 + 256;
/** The same for a sensor as it is. */
export const payloadBytes = (pairs: number, bits: number): number =>
  blockFrames * 2 * pairs * sampleBytes(bits) + 256;
/** Bytes of a full batch of rows: columns of float64 and float32, and keys. */
export const rowsBytes = (pairs: number): number => rowsPerBatch * (12 + 12 * pairs) + 256;
/** Rows of one batch, no more than the wire allows: a second at 69 Hz, the top of the 60 Hz band,
 * and what one tick of catching up at 10,240/s adds. */
export const rowsPerBatch = rowsMost;
export const rowsEveryMs = 1_000;
export const stateEveryMs = 5_000;
/** Keep and ask: a map of few numbers. */
export const maxReceivedBytes = 512;
/** Answers and states: a map of some thirty numbers. */
export const maxTalkBytes = 1_024;
/** Messages taken from the link in one tick: bounds its time. */
export const receivedPerTick = 8;

/** Records that may be on their way without a keep: three seconds live, 130 kB one pair. */
export const windowRecords = 32;
/** Records sent in one tick: bounds its time; at 40 ticks a second far above what arcs bring. */
export const sendsPerTick = 8;
/** After a connection: the retained keep arrives within this, else sending starts unasked. */
export const keepWaitMs = 1_000;
/** No keep for what was sent: send again, doubled each time up to the most. */
export const resendMs = { least: 5_000, most: 60_000 } as const;
/** A keep that goes nowhere asks for a resend; more often than this it would be a storm. */
export const resendAskedMs = 1_000;

/** The erase unit the ring is laid out for: a block of a common serial NOR flash. */
export const sectorBytes = 65_536;
/** 32 MiB: thirteen minutes of one pair's arcs, an afternoon of a bay without a server. */
export const flashSectors = 512;
/** Boot number and settings: two sectors, written in turn, so one always holds. */
export const notebookSectors = 2;
/** Fewer could not hold what waits while the next is being erased. */
export const minRingSectors = 4;
/** Tries of other sectors when one will not erase or program; then the record is dropped. */
export const flashTries = 4;

/** No frame for this long: the converter has stopped, and the watchdog starts the board anew. */
export const adcSilentMs = 2_000;
/** Clocks are compared once a second; a step is what no drift explains. */
export const clockEveryMs = 1_000;
export const clockStepMicros = 20_000;
/** A crystal's worst: beyond it a clock is wrong and not merely adrift. From memory: ±100 ppm. */
export const clockDriftPpm = 200;
/** Channels are looked over once a second: whole cycles at 50 Hz and at 60 Hz. */
export const lookOverMs = 1_000;

/** Frames of history: pre-trigger, the hops that decide, and what waits for flash. */
export const ringFrames = (rateHz: number): number =>
  Math.ceil((rateHz * (preTriggerMs + 4 * hopMs)) / 1_000) + readFrames + 2 * blockFrames;

/** Bytes a sample takes on flash and on air. */
export const sampleBytes = (bits: number): 2 | 4 => (bits > 16 ? 4 : 2);

assert(maxPayloadBytes + 64 <= sectorBytes / 2, 'two of the longest records fit a sector');
assert(blocksPerRead * blockFrames > readFrames, 'flash is given more than comes in');
assert(postTriggerMs.least >= holdHops * hopMs, 'the end is decided before the capture closes');
assert(faintGroups < steadyGroups, 'more evidence needs less time');
assert(preTriggerMs >= 5 * hopMs, 'the trigger decides well within the history');
assert(
  2 ** (2 * (16 - 1)) * (maxRateHz / 1_000) * hopMs * steadyHops < 2 ** 53,
  'sums of squares of sixteen bits stay whole numbers',
);
assert(resendMs.least > keepWaitMs, 'the first send is not a resend');
assert(windowRecords >= 2 * sendsPerTick, 'a tick never fills the window alone');
assert(
  rowsPerBatch >= 2 * 69 * (rowsEveryMs / 1_000 + (readsPerTick * readFrames) / 10_240),
  'a second of rows and a tick that catches up fit a batch',
);
assert(blockFrames <= waveFramesMost, 'a block is no longer than the wire allows');
assert(maxPayloadBytes <= payloadBytesMost, 'no message is longer than a broker takes');
assert(flashSectors >= notebookSectors + minRingSectors, 'there is room for a ring');

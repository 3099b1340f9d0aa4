import { stepsPerSecond } from './clockwork.ts';
import { type Ladder, outlet, terminals } from './ladder.ts';
import type { Random } from './random.ts';
import type { Sensor } from './scenario.ts';
import { Wander } from './wander.ts';

/** Corner of the anti-alias filter, of the sampling rate. */
const cornerFraction = 0.4;
/** A coil's integrator wanders by this part of full scale, and how slowly (estimates). */
const integratorPart = 4e-4;
const integratorTauS = 0.2;
/** Steps kept of each channel, to interpolate at the sensor's own instants. */
const kept = 4;

/**
 * A sensor's analogue side and converter: divider and current transformer with their errors, a
 * second-order anti-alias filter, its own clock, noise, rounding and clipping.
 */
export class FrontEnd {
  readonly voltsPerCount: number;
  readonly ampsPerCount: number;
  /** Its clock runs fast by this part of one. */
  readonly clockError: number;
  readonly channels: number;
  /** The newest frame of counts. */
  readonly frame: Int32Array;
  private readonly ladder: Ladder;
  private readonly voltsAt: number;
  private readonly ampsAt: number;
  private readonly highest: number;
  private readonly countsPerUnit: Float64Array;
  private readonly offsetCounts: Float64Array;
  private readonly noiseCounts: number;
  private readonly integrator: Wander | null;
  private readonly lowPass: Float64Array;
  /** Share of the slow part that the current transformer loses at each step. */
  private readonly lose: number;
  private readonly slow: Float64Array;
  private readonly state: Float64Array;
  private readonly history: Float64Array;
  private readonly stepsPerFrame: number;
  private noise: number;
  private taken = 0;
  private frames = 0;
  private due = 0;

  constructor(spec: Sensor, lineVolts: number, hertz: number, ladder: Ladder, random: Random) {
    const error = (bound: number): number => random.between(-bound, bound);
    const half = 2 ** (spec.bits - 1);
    const lines = ladder.lines;
    this.ladder = ladder;
    this.channels = 2 * lines;
    this.voltsAt = (spec.at === 'outlet' ? outlet : terminals) * lines;
    this.ampsAt = terminals * lines;
    this.highest = half - 1;
    this.voltsPerCount = (spec.fullScaleVolts ?? (lineVolts > 150 ? 800 : 400)) / half;
    this.ampsPerCount = spec.fullScaleAmps / half;
    this.countsPerUnit = new Float64Array(this.channels);
    for (let line = 0; line < lines; line++) {
      this.countsPerUnit[2 * line] = (1 + error(spec.voltsPercent) / 100) / this.voltsPerCount;
      this.countsPerUnit[2 * line + 1] = (1 + error(spec.ampsPercent) / 100) / this.ampsPerCount;
    }
    this.offsetCounts = new Float64Array(this.channels);
    for (let channel = 0; channel < this.channels; channel++) {
      this.offsetCounts[channel] = error(spec.offsetPpm) * 1e-6 * half;
    }
    this.integrator =
      spec.probe === 'rogowski'
        ? new Wander(random, integratorPart * half, integratorTauS, 1 / spec.rateHz)
        : null;
    const lead = (random.between(0.2, 1) * spec.leadDegrees * Math.PI) / 180;
    this.lose = (2 * Math.PI * hertz * Math.tan(lead)) / stepsPerSecond;
    this.clockError = error(spec.clockPpm) * 1e-6;
    this.stepsPerFrame = stepsPerSecond / (spec.rateHz * (1 + this.clockError));
    // Triangular noise of two 16-bit halves has a deviation of 2^16 / √6.
    this.noiseCounts = (spec.noisePpm * 1e-6 * half * Math.sqrt(6)) / 2 ** 16;
    this.noise = random.word() | 1;
    this.lowPass = butterworth((cornerFraction * spec.rateHz) / stepsPerSecond);
    this.slow = new Float64Array(this.channels);
    this.state = new Float64Array(2 * this.channels);
    this.history = new Float64Array(kept * this.channels);
    this.frame = new Int32Array(this.channels);
  }

  /** Takes the ladder's present step. @returns whether a new frame is due; then call `convert`. */
  step(): boolean {
    const { ladder, lowPass, state, history } = this;
    const b0 = lowPass[0]!;
    const a1 = lowPass[1]!;
    const a2 = lowPass[2]!;
    const slot = (this.taken & (kept - 1)) * this.channels;
    for (let channel = 0; channel < this.channels; channel++) {
      const line = channel >> 1;
      let x: number;
      if ((channel & 1) === 0) x = ladder.volts[this.voltsAt + line]!;
      else {
        x = ladder.amps[this.ampsAt + line]! - this.slow[channel]!;
        this.slow[channel]! += x * this.lose;
      }
      const at = 2 * channel;
      const y = b0 * x + state[at]!;
      state[at] = 2 * b0 * x - a1 * y + state[at + 1]!;
      state[at + 1] = b0 * x - a2 * y;
      history[slot + channel] = y;
    }
    this.taken += 1;
    return this.due <= this.taken - 2;
  }

  /** Interpolates at the sensor's instant (cubic, four steps around it) and converts. */
  convert(): void {
    const n = this.channels;
    const newest = this.taken - 1;
    const f = this.due - (newest - 2);
    const w0 = (-f * (f - 1) * (f - 2)) / 6;
    const w1 = ((f + 1) * (f - 1) * (f - 2)) / 2;
    const w2 = (-(f + 1) * f * (f - 2)) / 2;
    const w3 = ((f + 1) * f * (f - 1)) / 6;
    const s0 = ((newest + 1) & 3) * n;
    const s1 = ((newest + 2) & 3) * n;
    const s2 = ((newest + 3) & 3) * n;
    const s3 = (newest & 3) * n;
    const h = this.history;
    const { highest } = this;
    const wander = this.integrator === null ? 0 : this.integrator.next();
    let noise = this.noise;
    for (let channel = 0; channel < n; channel++) {
      const y =
        w0 * h[s0 + channel]! +
        w1 * h[s1 + channel]! +
        w2 * h[s2 + channel]! +
        w3 * h[s3 + channel]!;
      // Xorshift, 32 bits: noise needs speed, not quality.
      noise ^= noise << 13;
      noise ^= noise >>> 17;
      noise ^= noise << 5;
      const triangle = (noise & 0xffff) + (noise >>> 16) - 0xffff;
      const exact = y * this.countsPerUnit[channel]! + triangle * this.noiseCounts;
      const off = this.offsetCounts[channel]! + (channel & 1) * wander;
      const rounded = Math.floor(exact + off + 0.5);
      this.frame[channel] = Math.max(-highest - 1, Math.min(highest, rounded));
    }
    this.noise = noise;
    this.frames += 1;
    this.due = this.frames * this.stepsPerFrame;
  }
}

/** [b0, a1, a2] of a second-order low-pass (b1 = 2·b0, b2 = b0); corner over the step rate. */
function butterworth(corner: number): Float64Array {
  const k = Math.tan(Math.PI * corner);
  const scale = 1 / (1 + Math.SQRT2 * k + k * k);
  return Float64Array.of(
    k * k * scale,
    2 * (k * k - 1) * scale,
    (1 - Math.SQRT2 * k + k * k) * scale,
  );
}

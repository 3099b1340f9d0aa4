import { acquireSeconds } from '../../shared/metrology/cycle-sync.ts';
import type { AdcAbout } from '../hal.ts';
import * as limits from './limits.ts';

/** One line of the table: what for, and how many bytes. */
export interface MemoryLine {
  where: 'RAM' | 'flash' | 'air';
  what: string;
  bytes: number;
}

/** Sums, rings' tables and numbers that are not worth a line of their own. */
const smallBytes = 4_096;

/**
 * What a sensor takes of a board: RAM held for good (there is no other), flash, and bytes a second
 * on the air. Code and stack are the compiler's to tell. Counted as this program holds it; a test
 * compares the sum with what it really allocates.
 */
export function memoryTable({ pairs, rateHz, bits }: Omit<AdcAbout, 'scale'>): MemoryLine[] {
  const channels = 2 * pairs;
  const sample = limits.sampleBytes(bits);
  const payload = limits.payloadBytes(pairs, bits);
  const ring = limits.flashSectors - limits.notebookSectors;
  const blockSeconds = limits.blockFrames / rateHz;
  const line = (where: MemoryLine['where'], what: string, bytes: number): MemoryLine => ({
    where,
    what,
    bytes: Math.ceil(bytes),
  });
  return [
    line('RAM', 'frames just read', limits.readFrames * channels * 4),
    line('RAM', 'history before an arc', limits.ringFrames(rateHz) * channels * sample),
    line('RAM', 'half-cycle meter: window', (2 * acquireSeconds * rateHz + 65) * channels * 8),
    line('RAM', 'half-cycle meter: frames handed over', limits.readFrames * channels * 8),
    // Of several voltages a second one is looked at beside the one that is followed.
    line('RAM', 'half-cycle meter: cycle sync', pairs > 1 ? 12_288 : 7_168),
    line('RAM', 'a second of rows, and their message', 2 * limits.rowsBytes(pairs)),
    line('RAM', 'message being written', payload),
    line('RAM', 'message being sent', payload),
    line('RAM', 'states, answers, keeps', 2 * limits.maxTalkBytes + limits.maxReceivedBytes),
    line('RAM', "table of the ring's sectors", limits.flashSectors * 16),
    line('RAM', 'sums and settings', smallBytes),
    line('flash', 'boot number and settings', limits.notebookSectors * limits.sectorBytes),
    line('flash', 'ring of records', ring * limits.sectorBytes),
    line('air', 'a second of an arc', (payload - 160) / blockSeconds),
    line('air', 'a second of rows at 60 Hz', 120 * (12 + 12 * pairs) + 160),
    line('air', 'state, a second', 90),
  ];
}

/** The table as text, for a pair count, with what the flash is worth in seconds of arc. */
export function memoryText(about: Omit<AdcAbout, 'scale'>): string {
  const lines = memoryTable(about);
  const sum = (where: MemoryLine['where']) =>
    lines.filter((line) => line.where === where).reduce((total, { bytes }) => total + bytes, 0);
  const row = (where: string, what: string, bytes: number) =>
    `${where.padEnd(7)}${what.padEnd(40)}${bytes.toLocaleString('en').padStart(12)}`;
  const arcSeconds = Math.floor(
    sum('flash') / (lines.find(({ what }) => what === 'a second of an arc')?.bytes ?? 1),
  );
  return [
    `${about.pairs} pair(s), ${about.rateHz} samples a second, ${about.bits} bits; bytes`,
    ...lines.map(({ where, what, bytes }) => row(where, what, bytes)),
    row('RAM', 'together', sum('RAM')),
    row('flash', `together: ${arcSeconds} s of arc`, sum('flash')),
    '',
  ].join('\n');
}

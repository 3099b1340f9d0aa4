import { setImmediate as turn } from 'node:timers/promises';
import type { Judgement } from '../../../shared/protocol/judgement.ts';
import type { RecordingReader } from '../../../shared/recording/reader.ts';
import type { WatchedArc, WatchSetup } from '../../../shared/watch/contract.ts';
import { Watch } from '../../../shared/watch/watch.ts';
import { ProblemError } from '../http/problems.ts';
import { limits } from '../limits.ts';
import { asProblem } from './upload.ts';

export interface JudgedUpload {
  judgement: Judgement;
  arcs: WatchedArc[];
}

/**
 * Judges a recording between the messages of the sensors: after each slice of a few milliseconds
 * everything else has its turn.
 * @throws ProblemError of what is wrong in it
 */
export async function judgeUpload(
  name: string,
  reader: RecordingReader,
  setup: WatchSetup,
): Promise<JudgedUpload> {
  if (setup.rateHz > limits.recordingHertz)
    throw new ProblemError(
      'bad-request',
      `${name}: ${setup.rateHz} samples/s; at most ${limits.recordingHertz} are measured`,
    );
  const arcs: WatchedArc[] = [];
  const watch = new Watch(
    { ...setup, keep: limits.recordingArcs },
    { arcEnded: (arc) => arcs.length < limits.recordingArcs && arcs.push(arc) },
  );
  let frames = 0;
  let since = performance.now();
  for (;;) {
    const block = next(reader);
    if (block === null) break;
    if (block.gapFrames > 0) watch.skip(block.gapFrames, 'lost');
    watch.push(block.channels, block.frames);
    frames += block.frames;
    if (performance.now() - since < limits.recordingSliceMs) continue;
    await turn();
    since = performance.now();
  }
  if (frames === 0) throw new ProblemError('bad-request', `${name}: holds no samples`);
  watch.end();
  return { judgement: watch.judgement(reader.facts.format), arcs };
}

function next(reader: RecordingReader) {
  try {
    return reader.next();
  } catch (error) {
    throw asProblem(error);
  }
}

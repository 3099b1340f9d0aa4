import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { judgeFile } from '../../dashboard/commands/judge-file.ts';
import { readCircuitFile, readPlateFile } from '../../dashboard/commands/plate-file.ts';

/**
 * Records of real-world classes with their truth, drawn outside this project by another hand
 * (`shared/data/truth` beside the checkout; its README tells how).
 */
const folder = fileURLToPath(new URL('../../../shared/data/truth/', import.meta.url));
const list = `${folder}truth.json`;

interface Truth {
  record: string;
  plate: string;
  circuit: string | null;
  allowedVerdicts: string[];
  why: string;
}

const truths: Truth[] = existsSync(list) ? JSON.parse(readFileSync(list, 'utf8')) : [];

describe.skipIf(truths.length === 0)('records with their truth (skipped without them)', () => {
  test.each(truths.map((each) => [each.record.replace('.cfg', ''), each] as const))(
    '%s gets a verdict that is right',
    async (_name, { record, plate, circuit, allowedVerdicts, why }) => {
      const given = {
        plate: readPlateFile(folder + plate),
        circuit: circuit === null ? null : readCircuitFile(folder + circuit),
        sensor: null,
      };
      const { judgement } = await judgeFile(folder + record, given, new AbortController().signal);
      expect(allowedVerdicts, `${why}: ${judgement.verdict}`).toContain(judgement.verdict);
    },
  );
});

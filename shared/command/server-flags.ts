import type { Flag } from './flags.ts';

const port = (says: string, value: number) =>
  ({
    kind: 'number',
    says: `${says}; 0: any free`,
    value,
    min: 0,
    max: 65_535,
    whole: true,
  }) as const;

/** What every verb that listens or keeps says alike. */
export const httpPort = port('port of the page', 8080) satisfies Flag;
export const mqttPort = port('port for sensors', 1883) satisfies Flag;
export const host = { kind: 'text', says: 'address to listen on', value: '127.0.0.1' } as const;
export const data = { kind: 'text', says: 'folder of all that is kept', value: 'data' } as const;

/** Ends when the verb is told to stop. */
export const untilStopped = (signal: AbortSignal): Promise<void> =>
  new Promise((resolve) => {
    if (signal.aborted) resolve();
    signal.addEventListener('abort', () => resolve());
  });

import { signal } from '@preact/signals';

/** Grows with each word of the feed on a job sheet: who shows one asks anew. */
export const jobNews = signal(0);

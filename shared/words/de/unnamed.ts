import type { unnamed as english } from '../en/unnamed.ts';
import { refusals } from './refusals.ts';
import { sources } from './sources.ts';

export const unnamed: typeof english = { ...sources, ...refusals };

import { signal } from '@preact/signals';
import type { Check } from '../../../../shared/protocol/http-check.ts';

/** The newest word of the feed on any outlet check. */
export const checkNews = signal<Check | null>(null);

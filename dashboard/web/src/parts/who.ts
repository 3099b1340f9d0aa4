import { kept } from './kept.ts';

/** Who stands at this device: said once, asked for where a name is set under something. */
export const who = kept('who', '');

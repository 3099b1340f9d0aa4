/**
 * What the recorder does is a table: state and event give the next state and what to do on the
 * way. Every pair stands here; an event that means nothing in a state leads back to it, idle.
 */
export const captureStates = ['watching', 'capturing', 'trailing'] as const;
export type CaptureState = (typeof captureStates)[number];

/** `rose`, `fell`: the trigger's edges. `passed`: all that the capture wants is on flash. `torn`:
 * frames were lost. `halted`: the firmware is told to stop. */
export const captureEvents = ['rose', 'fell', 'passed', 'torn', 'halted'] as const;
export type CaptureEvent = (typeof captureEvents)[number];

/** `open`: begin a capture and an arc; `begin`: an arc within it; `end`: the arc; `flush`: write
 * what the history holds, and start it anew; `close`: flush and be done. */
export type CaptureAction = 'none' | 'open' | 'begin' | 'end' | 'flush' | 'close' | 'end-close';

export interface CaptureStep {
  readonly to: CaptureState;
  readonly act: CaptureAction;
}

const step = (to: CaptureState, act: CaptureAction = 'none'): CaptureStep => ({ to, act });

export const captureTable: Record<CaptureState, Record<CaptureEvent, CaptureStep>> = {
  watching: {
    rose: step('capturing', 'open'),
    fell: step('watching'),
    passed: step('watching'),
    torn: step('watching', 'flush'),
    halted: step('watching'),
  },
  capturing: {
    rose: step('capturing'),
    fell: step('trailing', 'end'),
    passed: step('capturing'),
    torn: step('capturing', 'flush'),
    halted: step('watching', 'end-close'),
  },
  trailing: {
    rose: step('capturing', 'begin'),
    fell: step('trailing'),
    passed: step('watching', 'close'),
    torn: step('trailing', 'flush'),
    halted: step('watching', 'close'),
  },
};

/** The way to the server, likewise. */
export const linkStates = ['down', 'greeting', 'waiting', 'sending'] as const;
export type LinkState = (typeof linkStates)[number];

/** `connected` and `broke` come from the link; `greeted`: about and state are away; `keep`: the
 * server told how far it has stored; `late`: it did not in time. */
export const linkEvents = ['connected', 'broke', 'greeted', 'keep', 'late'] as const;
export type LinkEvent = (typeof linkEvents)[number];

/** `greet`: say anew who we are; `rewind`: send from the first record not kept. */
export type LinkAction = 'none' | 'greet' | 'rewind';

export interface LinkStep {
  readonly to: LinkState;
  readonly act: LinkAction;
}

const hop = (to: LinkState, act: LinkAction = 'none'): LinkStep => ({ to, act });

export const linkTable: Record<LinkState, Record<LinkEvent, LinkStep>> = {
  down: {
    connected: hop('greeting', 'greet'),
    broke: hop('down'),
    greeted: hop('down'),
    keep: hop('down'),
    late: hop('down'),
  },
  greeting: {
    connected: hop('greeting', 'greet'),
    broke: hop('down'),
    greeted: hop('waiting'),
    keep: hop('greeting'),
    late: hop('greeting'),
  },
  waiting: {
    connected: hop('greeting', 'greet'),
    broke: hop('down'),
    greeted: hop('waiting'),
    keep: hop('sending', 'rewind'),
    late: hop('sending', 'rewind'),
  },
  sending: {
    connected: hop('greeting', 'greet'),
    broke: hop('down'),
    greeted: hop('sending'),
    keep: hop('sending'),
    late: hop('sending', 'rewind'),
  },
};

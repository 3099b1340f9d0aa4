import { signal } from '@preact/signals';
import type { Me } from '../../../../shared/protocol/http-people.ts';

/** Who is at this device, as the server takes it; null until it was heard. */
export const me = signal<Me | null>(null);

/** Why somebody is asked to sign in: it was tapped on, nobody is signed in, or the wrong one is. */
export type SignInReason = 'tapped' | 'not-signed-in' | 'not-allowed';

/** Set while the dialog is open. */
export const asking = signal<SignInReason | null>(null);

let waiting: ((signedIn: boolean) => void)[] = [];

/** Opens the dialog; true once somebody has signed in, false when it was closed without. */
export function askSignIn(reason: SignInReason): Promise<boolean> {
  asking.value = reason;
  return new Promise((resolve) => waiting.push(resolve));
}

/** Closes the dialog; whoever waited for it goes on. */
export function answered(signedIn: boolean): void {
  asking.value = null;
  const all = waiting;
  waiting = [];
  for (const resolve of all) resolve(signedIn);
}

import type { access as english } from '../en/access.ts';

export const access: typeof english = {
  heading: 'Dieses Gerät ist neu hier',
  what: 'Den Zugangscode eintippen. Er steht auf dem Bildschirm, an dem Stiffline gestartet wurde.',
  code: 'Zugangscode',
  enter: 'Einlassen',
};

import type { guns as english } from '../en/guns.ts';

export const guns: typeof english = {
  processes: 'Eingerichtet für',
  heading: 'Brenner, wo mehrere an der Maschine bleiben',
  more: 'Weiterer Brenner',
  name: 'Brenner',
  rest: 'Was ein Brenner leer lässt, gilt wie oben für die ganze Maschine.',
};

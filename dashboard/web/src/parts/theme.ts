import { effect, signal } from '@preact/signals';
import { kept } from './kept.ts';

/** "device", "light" or "dark": what this person chose. */
export const chosenTheme = kept('theme', 'device');

const dark = matchMedia('(prefers-color-scheme: dark)');
const ofDevice = signal(dark.matches);
dark.addEventListener('change', () => {
  ofDevice.value = dark.matches;
});

/** What holds now; charts are drawn with its inks and are drawn anew when it changes. */
export const theme = signal<'light' | 'dark'>('light');

effect(() => {
  const chosen = chosenTheme.value;
  const now = chosen === 'light' || chosen === 'dark' ? chosen : ofDevice.value ? 'dark' : 'light';
  document.documentElement.setAttribute('data-theme', now);
  theme.value = now;
});

import { clock, day } from './format.ts';

/** A day and a time of day, parted nowhere but between the two. */
export function Moment({ at }: { at: string }) {
  return (
    <span class="moment">
      <span>{day(at)}</span> <span>{clock(at)}</span>
    </span>
  );
}

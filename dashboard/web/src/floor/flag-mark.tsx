/** A small flag: stands until a person has acknowledged what it is for. */
export function FlagMark() {
  return (
    <svg class="flag-mark" viewBox="0 0 24 24" width="20" height="20" aria-hidden="true">
      <path d="M5 23V2h15l-5 5.5 5 5.5H7.5v10z" fill="currentColor" />
    </svg>
  );
}

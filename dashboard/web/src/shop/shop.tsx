export function Shop() {
  return <main />;
}

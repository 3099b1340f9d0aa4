export function EditCircuit({ id }: { id: number | null }) {
  return <main>{id}</main>;
}

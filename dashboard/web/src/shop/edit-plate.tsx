export function EditPlate({ id }: { id: number | null }) {
  return <main>{id}</main>;
}

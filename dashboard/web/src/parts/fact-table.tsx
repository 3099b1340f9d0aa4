/** Figures as a table of two columns: what it is, and what it comes to. */
export function FactTable({ rows }: { rows: readonly (readonly [string, string])[] }) {
  return (
    <table class="facts">
      <tbody>
        {rows.map(([name, says]) => (
          <tr key={name}>
            <th scope="row">{name}</th>
            <td>{says}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

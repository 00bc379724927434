/** The plan's weeks, as a table's heading. */
export function WeeksHead({ weeks }: { readonly weeks: readonly string[] }) {
  return (
    <thead>
      <tr>
        <th scope="col">Shed</th>
        {weeks.map((week) => (
          <th key={week} scope="col">
            {week.slice(0, 4)}
            <br />
            {week.slice(5)}
          </th>
        ))}
      </tr>
    </thead>
  );
}

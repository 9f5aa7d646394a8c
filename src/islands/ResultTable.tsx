import type { ResultTable as Table } from '../../calculators/outcome.ts';

/** A table of results. It is named by its own caption, or by the text with the id that is given. */
export function ResultTable({ table, labelledBy }: { table: Table; labelledBy?: string | undefined }) {
  const name = labelledBy ? { 'aria-labelledby': labelledBy } : { 'aria-label': table.caption };
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a wide table scrolls sideways; a keyboard has to reach it to scroll
    <section class="scroll" tabIndex={0} {...name}>
      <table aria-labelledby={labelledBy}>
        {!labelledBy && <caption>{table.caption}</caption>}
        <thead>
          <tr>
            {table.columns.map((column) => (
              <th key={column} scope="col">
                {column}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {table.rows.map((row) => (
            <tr key={row.label}>
              <th scope="row">{row.label}</th>
              {row.cells.map((cell, place) => (
                <td key={`${place}:${cell}`}>{cell}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

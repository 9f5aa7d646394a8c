import type { SeriesField } from '../../calculators/calculator.ts';
import { type UnitCode, units } from '../../calculators/quantity.ts';
import type { TypedQuantity } from './QuantityInput.tsx';
import { blankRow, type TypedRow } from './typed-rows.ts';

interface Props {
  id: string;
  field: SeriesField;
  rows: TypedRow[];
  problem?: string | undefined;
  /** what a column in '{reading}' is in, once the test is chosen */
  readingUnit?: UnitCode | undefined;
  onType: (rows: TypedRow[]) => void;
  onLeave: () => void;
}

/** A small table to fill, row by row; a column copied from a spreadsheet or a download can be pasted into any cell. */
export function SeriesInput({ id, field, rows, problem, readingUnit, onType, onLeave }: Props) {
  const put = (at: number, name: string, typed: TypedQuantity) =>
    onType(rows.map((row, place) => (place === at ? { ...row, [name]: typed } : row)));
  const setUnit = (name: string, unit: UnitCode) =>
    onType(rows.map((row) => ({ ...row, [name]: { text: row[name]?.text ?? '', unit } })));
  const unitOf = (name: string, fallback: UnitCode): UnitCode => rows[0]?.[name]?.unit ?? fallback;

  const paste = (event: ClipboardEvent, at: number, from: number) => {
    const lines = (event.clipboardData?.getData('text') ?? '').split(/\r?\n/).filter((line) => line.trim() !== '');
    const cells = lines.map((line) => line.split(/\t|;/));
    if (lines.length < 2 && (cells[0]?.length ?? 0) < 2) return;
    event.preventDefault();
    const next = [...rows];
    for (const [down, line] of cells.slice(0, field.max - at).entries()) {
      const row = { ...(next[at + down] ?? blankRow(field)) };
      for (const [across, text] of line.entries()) {
        const column = field.columns[from + across];
        if (column) row[column.name] = { text: text.trim(), unit: unitOf(column.name, column.unit) };
      }
      next[at + down] = row;
    }
    onType(next);
  };

  return (
    <fieldset
      class="field series"
      aria-describedby={[problem && `${id}-problem`, field.help && `${id}-help`].filter(Boolean).join(' ') || undefined}
    >
      <legend>
        {field.label}
        {field.optional && <span class="small"> (if known)</span>}
      </legend>
      {field.help && (
        <p class="small" id={`${id}-help`}>
          {field.help}
        </p>
      )}
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a wide table scrolls sideways; a keyboard has to reach it to scroll */}
      <section class="scroll" tabIndex={0} aria-label={field.label}>
        <table>
          <thead>
            <tr>
              <th scope="col">{field.row}</th>
              {field.columns.map((column) => {
                const accepts = [column.unit, ...(column.accepts ?? [])];
                return (
                  <th key={column.name} scope="col">
                    {column.label}{' '}
                    {accepts.length > 1 ? (
                      <select
                        aria-label={`Unit of ${column.label}`}
                        value={unitOf(column.name, column.unit)}
                        onChange={(event) => setUnit(column.name, event.currentTarget.value as UnitCode)}
                      >
                        {accepts.map((code) => (
                          <option key={code} value={code}>
                            {units[code].symbol || '-'}
                          </option>
                        ))}
                      </select>
                    ) : (
                      units[column.unit === '{reading}' && readingUnit ? readingUnit : column.unit].symbol
                    )}
                  </th>
                );
              })}
            </tr>
          </thead>
          <tbody>
            {rows.map((row, at) => (
              <tr key={at}>
                <th scope="row">{at + 1}</th>
                {field.columns.map((column, from) => (
                  <td key={column.name}>
                    <input
                      type="text"
                      inputMode="decimal"
                      autocomplete="off"
                      aria-label={`${column.label}, ${field.row.toLowerCase()} ${at + 1}`}
                      value={row[column.name]?.text ?? ''}
                      onInput={(event) =>
                        put(at, column.name, {
                          text: event.currentTarget.value,
                          unit: unitOf(column.name, column.unit),
                        })
                      }
                      onPaste={(event) => paste(event, at, from)}
                      onBlur={onLeave}
                    />
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      {problem && (
        <p class="problem" id={`${id}-problem`}>
          {problem}
        </p>
      )}
      {rows.length < field.max && (
        <button type="button" onClick={() => onType([...rows, blankRow(field)])}>
          Add a row
        </button>
      )}
    </fieldset>
  );
}

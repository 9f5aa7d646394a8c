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
  const unitOf = (name: string, fallback: UnitCode): UnitCode => unitIn(rows, name, fallback);

  const paste = (event: ClipboardEvent, at: number, from: number) => {
    const cells = cellsOf(event.clipboardData?.getData('text') ?? '');
    if (cells.length < 2 && (cells[0]?.length ?? 0) < 2) return;
    event.preventDefault();
    onType(pasted(rows, cells, field, at, from));
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
              {field.columns.map((column) => (
                <ColumnHeading
                  key={column.name}
                  column={column}
                  unit={unitOf(column.name, column.unit)}
                  readingUnit={readingUnit}
                  onUnit={(unit) => setUnit(column.name, unit)}
                />
              ))}
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

/** The unit chosen for a column: that of its first row. */
const unitIn = (rows: readonly TypedRow[], name: string, fallback: UnitCode): UnitCode =>
  rows[0]?.[name]?.unit ?? fallback;

const cellsOf = (text: string): string[][] =>
  text
    .split(/\r?\n/)
    .filter((line) => line.trim() !== '')
    .map((line) => line.split(/\t|;/));

/** The rows with the cells put in from one cell to the right and down; what does not fit the table is left out. */
function pasted(
  rows: readonly TypedRow[],
  cells: readonly string[][],
  field: SeriesField,
  at: number,
  from: number,
): TypedRow[] {
  const next = [...rows];
  for (const [down, line] of cells.slice(0, field.max - at).entries()) {
    const row = { ...(next[at + down] ?? blankRow(field)) };
    for (const [across, text] of line.entries()) {
      const column = field.columns[from + across];
      if (column) row[column.name] = { text: text.trim(), unit: unitIn(rows, column.name, column.unit) };
    }
    next[at + down] = row;
  }
  return next;
}

interface ColumnHeadingProps {
  column: SeriesField['columns'][number];
  unit: UnitCode;
  readingUnit: UnitCode | undefined;
  onUnit: (unit: UnitCode) => void;
}

function ColumnHeading({ column, unit, readingUnit, onUnit }: ColumnHeadingProps) {
  const accepts = [column.unit, ...(column.accepts ?? [])];
  return (
    <th scope="col">
      {column.label}{' '}
      {accepts.length > 1 ? (
        <select
          aria-label={`Unit of ${column.label}`}
          value={unit}
          onChange={(event) => onUnit(event.currentTarget.value as UnitCode)}
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
}

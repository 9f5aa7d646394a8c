import { ResultTable } from '../ResultTable.tsx';
import '../../styles/form.css';
import '../../styles/moving.css';
import { useId, useMemo, useState } from 'preact/hooks';
import { show } from '../../../calculators/quantity.ts';
import { useReady, useSettled } from '../use-ready.ts';
import { BarsDrawing, Key, PlotDrawing } from './Drawn.tsx';
import { type Control, type Controls, firstValues, type Moving, type ValuesOf } from './figure.ts';

/**
 * Picture, controls under it where a thumb can move them in sight of it, table. The server prints all three at the first values with the controls disabled, so that without
 * the script the picture and the values beside it still belong together.
 */
export function MovingFigure<C extends Controls, D>({ figure, data }: { figure: Moving<C, D>; data: D }) {
  const id = useId();
  const ready = useReady();
  const [values, setValues] = useState<ValuesOf<C>>(() => firstValues(figure.controls));
  const picture = useMemo(() => figure.picture(values, data), [figure, values, data]);
  const spoken = useSettled(picture.says);
  const { draws, table, more } = picture;
  return (
    <section class="moving" aria-labelledby={`${id}-title`}>
      <h3 id={`${id}-title`}>{figure.title}</h3>
      <p>{figure.about}</p>
      {figure.before?.map((text) => (
        <aside key={text} class="care" aria-label="Before you use the number">
          {text}
        </aside>
      ))}
      <figure>
        {draws.kind === 'plot' ? (
          <>
            <PlotDrawing plot={draws.plot} id={`${id}-clip`} />
            <Key plot={draws.plot} />
          </>
        ) : (
          <BarsDrawing bars={draws.bars} />
        )}
      </figure>
      <form method="dialog" onSubmit={(event) => event.preventDefault()} autocomplete="off">
        <fieldset disabled={!ready}>
          {Object.entries(figure.controls).map(([name, control]) => (
            <ControlField
              key={name}
              id={`${id}-${name}`}
              control={control}
              value={values[name as keyof C] as string | number}
              onChange={(value) => setValues((now) => ({ ...now, [name]: value }))}
            />
          ))}
        </fieldset>
        {!ready && (
          <p class="small waiting">
            The sliders need JavaScript. Until the sliders work, the picture shows the values printed on this page.
          </p>
        )}
      </form>
      <p>{picture.says}</p>
      <p class="tabled" id={`${id}-table`}>
        {table.caption}
      </p>
      <ResultTable table={table} labelledBy={`${id}-table`} />
      {picture.notes.map((note) => (
        <p key={note} class="small">
          {note}
        </p>
      ))}
      {more && (
        <details key={more.text[0]}>
          <summary>{more.summary}</summary>
          {more.text.map((text) => (
            <p key={text}>{text}</p>
          ))}
        </details>
      )}
      <p class="hidden" role="status">
        {spoken}
      </p>
    </section>
  );
}

interface FieldProps {
  id: string;
  control: Control;
  value: string | number;
  onChange: (value: string | number) => void;
}

function ControlField({ id, control, value, onChange }: FieldProps) {
  if (control.kind === 'slide') {
    const words = show(Number(value), control.unit, control.decimals);
    return (
      <div class="field slide">
        <label for={id}>{control.label}</label> <output for={id}>{words}</output>
        <input
          id={id}
          type="range"
          min={control.min}
          max={control.max}
          step={control.step}
          value={value}
          aria-valuetext={words}
          onInput={(event) => onChange(Number(event.currentTarget.value))}
        />
      </div>
    );
  }
  if (control.options.length > 4)
    return (
      <div class="field">
        <label for={id}>{control.label}</label>
        <div class="entry">
          <select id={id} value={value} onChange={(event) => onChange(event.currentTarget.value)}>
            {control.options.map((option) => (
              <option key={option.value} value={option.value}>
                {option.label}
              </option>
            ))}
          </select>
        </div>
      </div>
    );
  return (
    <fieldset class="field choice">
      <legend>{control.label}</legend>
      <div class="entry">
        {control.options.map((option) => (
          <label key={option.value} class="chip">
            <input
              type="radio"
              name={id}
              value={option.value}
              checked={value === option.value}
              onChange={() => onChange(option.value)}
            />
            {option.label}
          </label>
        ))}
      </div>
    </fieldset>
  );
}

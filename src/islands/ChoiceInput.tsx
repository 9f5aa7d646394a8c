interface Props {
  id: string;
  label: string;
  options: readonly { value: string; label: string }[];
  value: string;
  help?: string | undefined;
  problem?: string | undefined;
  optional?: boolean | undefined;
  onChoose: (value: string) => void;
}

/** One of a few: buttons to tap while they fit a thumb, a list where they would not. */
export function ChoiceInput({ id, label, options, value, help, problem, optional, onChoose }: Props) {
  const described = [help && `${id}-help`, problem && `${id}-problem`].filter(Boolean).join(' ') || undefined;
  const notes = (
    <>
      {problem && (
        <p class="problem" id={`${id}-problem`}>
          {problem}
        </p>
      )}
      {help && (
        <p class="small" id={`${id}-help`}>
          {help}
        </p>
      )}
    </>
  );
  const name = (
    <>
      {label}
      {optional && <span class="small"> (if known)</span>}
    </>
  );
  if (options.length > 4)
    return (
      <div class="field">
        <label for={id}>{name}</label>
        <div class="entry">
          <select
            id={id}
            value={value}
            aria-describedby={described}
            onChange={(event) => onChoose(event.currentTarget.value)}
          >
            <option value="">Choose</option>
            {options.map((option) => (
              <option key={option.value} value={option.value}>
                {option.label}
              </option>
            ))}
          </select>
        </div>
        {notes}
      </div>
    );
  return (
    <fieldset class="field choice" aria-describedby={described}>
      <legend>{name}</legend>
      <div class="entry">
        {options.map((option) => (
          <label key={option.value} class="chip">
            <input
              type="radio"
              name={id}
              value={option.value}
              checked={value === option.value}
              // A second tap takes an answer back: what is not known stays unanswered.
              onClick={() => value === option.value && onChoose('')}
              onChange={() => onChoose(option.value)}
            />
            {option.label}
          </label>
        ))}
      </div>
      {notes}
    </fieldset>
  );
}

import type { ComponentChildren } from 'preact';
import { sexOptions } from '../../../calculators/domain/age-and-sex.ts';
import { type Disease, diseaseNames, diseases } from '../../../calculators/domain/diseases.ts';
import type { Sex } from '../../../calculators/domain/person.ts';
import type { VisitSheetContent } from '../../../calculators/domain/visit-sheet.ts';
import type { UnitCode } from '../../../calculators/quantity.ts';
import { askNext } from '../../person/next.ts';
import { ChoiceInput } from '../ChoiceInput.tsx';
import { QuantityInput } from '../QuantityInput.tsx';
import { ChoiceField } from './Field.tsx';
import { type PersonField, readPersonField } from './person-typed.ts';
import type { SheetAction, SheetState } from './sheet-state.ts';

interface Props {
  sheet: SheetState;
  act: (action: SheetAction) => void;
  choices: VisitSheetContent['choices'];
  /** between the date of the visit and the button that clears everything */
  children: ComponentChildren;
}

const diseaseOptions = diseases.map((code) => ({ value: code, label: diseaseNames[code] }));

/** Who the visit is about and when it was. No name is asked for. */
export function PersonPart({ sheet, act, choices, children }: Props) {
  const { person, entries } = sheet;
  return (
    <section class="part" aria-labelledby="person-title">
      <h2 id="person-title">The person</h2>
      <ChoiceInput
        id="visit-disease"
        label="Disease"
        options={diseaseOptions}
        value={person.disease ?? ''}
        onChoose={(value) =>
          act({ type: 'change person', changes: { disease: value === '' ? undefined : (value as Disease) } })
        }
      />
      <TypedFact field="age" label="Age" accepts={['a', 'mo']} sheet={sheet} act={act} />
      <ChoiceInput
        id="visit-sex"
        label="Sex used for prediction"
        options={sexOptions}
        value={person.sex ?? ''}
        onChoose={(value) =>
          act({ type: 'change person', changes: { sex: value === '' ? undefined : (value as Sex) } })
        }
      />
      <TypedFact field="height" label="Height" accepts={['cm', 'm', '[ft_i]', '[in_i]']} sheet={sheet} act={act} />
      {person.heightCm !== undefined && choices['height-method'] && (
        <ChoiceField
          id="height-method"
          choice={choices['height-method']}
          entries={entries}
          onChange={(changes) => act({ type: 'change entries', changes })}
        />
      )}
      <div class="field">
        <label for="visit-date">Date of the visit</label>
        <div class="entry">
          <input
            id="visit-date"
            type="date"
            value={entries.date}
            onChange={({ currentTarget: { value } }) => act({ type: 'change entries', changes: { date: value } })}
          />
        </div>
      </div>
      {children}
      <button type="button" class="clears" onClick={(event) => askNext(event.currentTarget)}>
        Next person: clear everything typed
      </button>
    </section>
  );
}

interface TypedFactProps extends Omit<Props, 'children' | 'choices'> {
  field: PersonField;
  label: string;
  accepts: readonly UnitCode[];
}

function TypedFact({ field, label, accepts, sheet, act }: TypedFactProps) {
  const typed = sheet.typed[field];
  return (
    <QuantityInput
      id={`visit-${field}`}
      label={label}
      typed={typed}
      accepts={accepts}
      problem={readPersonField(field, typed).problem}
      onType={(value) => act({ type: 'type person', field, value })}
      onLeave={() => act({ type: 'leave person field' })}
    />
  );
}

import { useRef, useState } from 'preact/hooks';
import type { AgreedCriterion } from '../../../calculators/agreement/agreement.ts';
import { departureWords, spanWords } from '../../../calculators/agreement/agreement-words.ts';
import { departureOf, keep } from '../../../calculators/agreement/local-criteria.ts';
import { forDiseases, thinReason } from '../../../calculators/agreement/meeting.ts';
import { criterionProblems } from '../../../calculators/agreement/read-agreement.ts';
import type { Criterion } from '../../../calculators/domain/criterion.ts';
import { type Disease, diseaseNames, diseases } from '../../../calculators/domain/diseases.ts';
import type { Measure } from '../../../calculators/domain/measure.ts';
import { alsoWords, comparison } from '../../../calculators/evaluate/say.ts';
import type { UnitCode } from '../../../calculators/quantity.ts';
import { readNumber } from '../../../calculators/read-number.ts';
import type { PublishedHere } from '../../agreement/published.ts';
import { today } from '../../browser/today.ts';
import { ChoiceInput } from '../ChoiceInput.tsx';
import { QuantityInput } from '../QuantityInput.tsx';
import { type Fields, type FormPlace, readBegun, writeBegun } from './begun.ts';
import { Day, Text } from './HeaderFields.tsx';

interface Props {
  /** distinguishes this form's fields from others on the page */
  name: string;
  decision: string;
  measureId: string;
  measure: Measure;
  /** the published criterion that is kept with another value, or whose source the team has read */
  basis: Criterion | undefined;
  /** a disease chosen to look at, to start with */
  disease: AgreedCriterion['disease'];
  published: PublishedHere;
  nextId: string;
  /** ids that other criteria of the agreement have */
  taken: readonly string[];
  /** the agreed criterion that is changed in place */
  existing?: AgreedCriterion | undefined;
  onAdd: (criteria: AgreedCriterion[]) => void;
  onLeave: () => void;
}

const sides: Record<string, string> = { '<': 'below', '<=': 'at or below', '>': 'above', '>=': 'at or above' };
const signs: Record<string, string> = { present: 'present', absent: 'absent' };

/** What was typed so far; kept on this device until the criterion is added or cancelled. */
function useFields(place: FormPlace, start: Partial<AgreedCriterion> | undefined, props: Props) {
  const { measure, disease, existing } = props;
  const [fields, setFields] = useState<Fields>(
    () =>
      readBegun(place) ?? {
        people: { disease: start?.disease ?? disease, population: start?.population ?? 'any' },
        comparator: start?.comparator ?? '',
        typed: {
          text: start?.value === undefined ? '' : String(start.value),
          unit: start?.unit ?? (measure.kind === 'number' ? measure.unit : '1'),
        },
        also: [],
        reason: existing?.reason ?? '',
        read: existing?.read ?? { role: '', date: today(), locator: '' },
      },
  );
  // Two fields can change before the form is drawn anew.
  const latest = useRef(fields);
  const change = (part: Partial<Fields>) => {
    latest.current = { ...latest.current, ...part };
    setFields(latest.current);
    writeBegun(place, latest.current);
  };
  return { fields, change };
}

/** The criterion that the fields make, and what is still missing. */
function useOwnCriterion(props: Props) {
  const { decision, measureId, measure, basis, published, nextId, existing } = props;
  const number = measure.kind === 'number';
  const start = existing ?? (basis && keep(basis, decision, nextId));
  const place = { decision, measure: measureId, from: existing?.id ?? basis?.id ?? '' };
  const { fields, change } = useFields(place, start, props);
  const { people, comparator, typed, reason, read } = fields;
  const [tried, setTried] = useState(false);
  const unchecked = basis?.standing === 'from-memory';

  const accepts = number ? [measure.unit, ...measure.accepts] : [];
  // A pressure is typed as -35 by one clinic and 35 by the next.
  const magnitude = (value: number) => (number && measure.magnitude ? Math.abs(value) : value);
  const quantity = number ? readNumber(typed.text, typed.unit, measure.label, accepts) : undefined;
  const made = criterionOf(
    start ?? { id: nextId, decision, measure: measureId },
    people,
    comparator,
    quantity?.ok ? { value: magnitude(quantity.quantity.value), unit: quantity.quantity.unit } : undefined,
    reason,
    unchecked ? read : undefined,
  );
  const criterion = existing ? withRecordOf(existing, made) : made;
  const complete = comparator !== '' && (!number || quantity?.ok === true);
  const { departs, found } = complete ? checkOf(criterion, published) : nothingFound;
  const problemAt = (field: string) => found.find(({ at }) => at[0] === field)?.message;
  const missing = missingWords(comparator, quantity, found);
  const forget = () => writeBegun(place, undefined);
  return {
    ...fields,
    change,
    forget,
    number,
    tried,
    setTried,
    unchecked,
    accepts,
    quantity,
    criterion,
    departs,
    problemAt,
    missing,
  };
}

/** Changed in place, it stays on the evidence recorded under it, until someone has looked at that again. */
function withRecordOf(before: AgreedCriterion, after: AgreedCriterion): AgreedCriterion {
  if (before.disease === after.disease && before.population === after.population) return after;
  // For other people, other published criteria are beside it.
  const { beside: _beside, was: _was, looked: _looked, ...rest } = after;
  return rest;
}

const nothingFound = { departs: undefined, found: [] };
/** How it departs from what is published, and what still keeps it from being agreed on. */
function checkOf(criterion: AgreedCriterion, published: PublishedHere) {
  const thin = criterion.reason === undefined ? undefined : thinReason(criterion, published);
  const found = criterionProblems(criterion, [], published);
  return {
    departs: departureOf(criterion, published),
    found: thin === undefined ? found : [...found, { at: ['reason'], message: thin }],
  };
}

/** What keeps the criterion from being added, in words. */
const missingWords = (
  comparator: string,
  quantity: ReturnType<typeof readNumber> | undefined,
  found: ReturnType<typeof criterionProblems>,
): string[] => [
  ...(comparator === '' ? ['Choose below or above'] : []),
  ...(quantity && !quantity.ok ? [quantity.message] : []),
  ...found.map(({ at, message }) =>
    at[0] === 'reason' || at[0] === 'read'
      ? message
          .replace('expected a reason, found nothing', 'Give the reason')
          .replace(
            /^expected who read the source, when and where.*$/,
            'Say who read the source, when, and where in the source',
          )
      : `${at[0]}: ${message}`,
  ),
];

/** A value of the clinic's own, with its reason; and, for an unchecked number, who read its source. */
export function OwnCriterion(props: Props) {
  const { name, measure, basis, published, taken, existing, onAdd, onLeave } = props;
  const own = useOwnCriterion(props);
  const {
    number,
    people,
    comparator,
    typed,
    reason,
    read,
    tried,
    unchecked,
    accepts,
    quantity,
    criterion,
    departs,
    missing,
  } = own;
  const rules = basis ? alsoWords(basis, published.measures) : [];

  return (
    <fieldset class="own">
      <legend>
        {basis
          ? `${published.data.sources[basis.source]}: ${comparison(basis, measure)}${unchecked ? ' (not yet checked)' : ''}`
          : 'A criterion of our own'}
      </legend>
      {rules.length > 0 && <p class="small">The rule also requires: {rules.join(', ')}.</p>}
      <People name={name} basis={basis} people={people} onChoose={(people) => own.change({ people })} />
      {!existing && people.disease !== 'any' && basis?.disease !== people.disease && (
        <AlsoFor chosen={own.also} but={people.disease} onChoose={(also) => own.change({ also })} />
      )}
      <ChoiceInput
        id={`${name}-side`}
        label={number ? 'The criterion is met' : 'The criterion is met when it is'}
        options={Object.entries(number ? sides : signs)
          .filter(([value]) => basis === undefined || value.charAt(0) === basis.comparator.charAt(0))
          .map(([value, label]) => ({ value, label }))}
        value={comparator}
        onChoose={(comparator) => own.change({ comparator })}
      />
      {number && (
        <QuantityInput
          id={`${name}-value`}
          label={`Value${measure.kind === 'number' && measure.of ? `, ${measure.of}` : ''}`}
          typed={typed}
          accepts={accepts}
          problem={(typed.text !== '' || tried) && quantity && !quantity.ok ? quantity.message : own.problemAt('value')}
          onType={(next) => own.change({ typed: next })}
        />
      )}
      {departs && (
        <p class="care" role="status">
          {departureWords[departs]} ({spanWords(criterion, published)}). It is marked in this way wherever it is shown.
        </p>
      )}
      <div class="field">
        <label for={`agree-${name}-reason`}>Reason</label>
        <textarea
          id={`agree-${name}-reason`}
          rows={3}
          maxLength={600}
          value={reason}
          onInput={(event) => own.change({ reason: event.currentTarget.value })}
        />
      </div>
      {unchecked && <SourceRead name={name} read={read} onType={(read) => own.change({ read })} />}
      {tried && missing.length > 0 && (
        <p class="problem" role="status">
          {missing.join('. ')}
        </p>
      )}
      <div class="entry">
        <button
          type="button"
          class="main"
          onClick={() => {
            own.setTried(true);
            if (missing.length > 0) return;
            own.forget();
            const others = people.disease === 'any' ? [] : own.also.filter((one) => one !== people.disease);
            onAdd(existing ? [criterion] : forDiseases(criterion, [people.disease, ...others], taken));
          }}
        >
          {existing ? 'Save the change' : 'Add this criterion'}
        </button>
        <button
          type="button"
          onClick={() => {
            own.forget();
            onLeave();
          }}
        >
          Cancel
        </button>
      </div>
    </fieldset>
  );
}

/** The criterion as it would be agreed: only what was filled in, without spaces around it. */
const criterionOf = (
  start: Pick<AgreedCriterion, 'id' | 'decision' | 'measure'> & Partial<AgreedCriterion>,
  people: PeopleChosen,
  comparator: string,
  amount: { value: number; unit: UnitCode } | undefined,
  reason: string,
  read: Reading | undefined,
): AgreedCriterion => {
  const { reason: _before, ...rest } = start;
  return {
    ...rest,
    ...people,
    comparator: comparator as AgreedCriterion['comparator'],
    ...amount,
    ...(reason.trim() ? { reason: reason.replace(/\s+/g, ' ').trim() } : {}),
    ...(read?.role.trim() && read.locator.trim()
      ? { read: { role: read.role.trim(), date: read.date, locator: read.locator.trim() } }
      : {}),
  };
};

type PeopleChosen = Fields['people'];

/** For whom it holds: what the published criterion it comes from allows. */
function People({
  name,
  basis,
  people,
  onChoose,
}: {
  name: string;
  basis: Criterion | undefined;
  people: PeopleChosen;
  onChoose: (people: PeopleChosen) => void;
}) {
  const offered = basis
    ? basis.disease === 'any'
      ? (['any', ...diseases] as const)
      : [basis.disease]
    : (['any', ...diseases] as const);
  const ages = basis && basis.population !== 'any' ? [basis.population] : (['any', 'adult', 'child'] as const);
  return (
    <>
      {offered.length > 1 && (
        <ChoiceInput
          id={`${name}-disease`}
          label="For whom"
          options={offered.map((code) => ({
            value: code,
            label: code === 'any' ? 'Any slowly progressive neuromuscular disease' : diseaseNames[code],
          }))}
          value={people.disease}
          onChoose={(value) => onChoose({ ...people, disease: (value || 'any') as AgreedCriterion['disease'] })}
        />
      )}
      {ages.length > 1 && (
        <ChoiceInput
          id={`${name}-ages`}
          label="Ages"
          options={[
            { value: 'any', label: 'All' },
            { value: 'adult', label: 'Adults' },
            { value: 'child', label: 'Children' },
          ]}
          value={people.population}
          onChoose={(value) => onChoose({ ...people, population: (value || 'any') as AgreedCriterion['population'] })}
        />
      )}
    </>
  );
}

/** The same criterion for further diseases at once: one each, so that each can be changed later. */
function AlsoFor({
  chosen,
  but,
  onChoose,
}: {
  chosen: Disease[];
  but: AgreedCriterion['disease'];
  onChoose: (chosen: Disease[]) => void;
}) {
  return (
    <details class="also-for">
      <summary>Also for other diseases{chosen.length > 0 && ` (${chosen.length})`}</summary>
      <fieldset class="field choice">
        <legend>The same threshold, for</legend>
        <div class="entry">
          {diseases
            .filter((code) => code !== but)
            .map((code) => (
              <label key={code} class="chip">
                <input
                  type="checkbox"
                  checked={chosen.includes(code)}
                  onChange={(event) =>
                    onChoose(event.currentTarget.checked ? [...chosen, code] : chosen.filter((one) => one !== code))
                  }
                />
                {diseaseNames[code]}
              </label>
            ))}
        </div>
      </fieldset>
    </details>
  );
}

type Reading = Fields['read'];

/** Who of the clinic has read the source of an unchecked number, when and where in it. */
function SourceRead({ name, read, onType }: { name: string; read: Reading; onType: (read: Reading) => void }) {
  return (
    <fieldset class="field choice">
      <legend>The team has read the source</legend>
      <p class="small">
        Nobody on this project has read this number at its source. Your agreement can use it only after someone in the
        clinic has read it.
      </p>
      <Text
        id={`${name}-read-role`}
        label="Who read it (role)"
        value={read.role}
        onType={(role) => onType({ ...read, role })}
      />
      <Day id={`${name}-read-date`} label="On" value={read.date} onType={(date) => onType({ ...read, date })} />
      <Text
        id={`${name}-read-locator`}
        label="Where in the source (page, table, section)"
        value={read.locator}
        onType={(locator) => onType({ ...read, locator })}
      />
    </fieldset>
  );
}

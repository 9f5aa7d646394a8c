/**
 * A calculator's declaration contains what its page prints and what its calculation needs. The page is printed when the
 * site is built; a reader's browser needs only the part that runs. What is only ever printed (the sources, the meanings
 * of the symbols, the formulas as text) is left out of the scripts that are sent.
 *
 * Only literals inside `defineCalculator({...})` and `formula({...})` are left out: anything computed stays.
 */
import type { AstroIntegration } from 'astro';
import { type Plugin, parseSync, Visitor } from 'vite';

/** keys that are printed and never read by a running calculation */
const printed: Record<string, ReadonlySet<string>> = {
  defineCalculator: new Set(['id', 'title', 'purpose', 'group', 'keywords', 'holds', 'citations']),
  formula: new Set(['text', 'withUnits']),
};

interface Span {
  start: number;
  end: number;
}
interface Cut extends Span {
  put: string;
}

/** How a calculator's file calls it, whatever a bundler puts round the name. Comments are left out before. */
const declares = /(?<!function )\bdefineCalculator\b\s*\)?\s*\(\s*\{/;

/**
 * @returns the code without its printed part
 * @throws where a calculator is declared and its declaration is not recognised: all of it would be sent
 */
export function withoutPrinted(code: string): string {
  const cuts: Cut[] = [];
  let declared = 0;
  const replace = ({ start, end }: Span, put: string) => cuts.push({ start, end, put });
  /** a property goes with the comma after it */
  const leaveOut = ({ start, end }: Span) => cuts.push({ start, end: code[end] === ',' ? end + 1 : end, put: '' });
  new Visitor({
    Property(property) {
      const { key, value } = property;
      if (key.type !== 'Identifier') return;
      // A form is drawn from what the page passes to it, help included; the calculation itself does not read it.
      if (key.name === 'help' && value.type === 'Literal') leaveOut(property);
      // Of a set's source a running calculation needs only its standing.
      if (key.name === 'citation' && value.type === 'ObjectExpression')
        for (const part of value.properties)
          if (part.type === 'Property' && part.key.type === 'Identifier' && part.key.name !== 'standing')
            leaveOut(part);
    },
    CallExpression({ callee, arguments: [declaration] }) {
      const keys = callee.type === 'Identifier' && Object.hasOwn(printed, callee.name) && printed[callee.name];
      if (!keys || declaration?.type !== 'ObjectExpression') return;
      if (callee.name === 'defineCalculator') declared += 1;
      for (const property of declaration.properties) {
        if (property.type !== 'Property' || property.key.type !== 'Identifier') continue;
        if (keys.has(property.key.name)) leaveOut(property);
        else if (property.key.name === 'symbols' && property.value.type === 'ObjectExpression')
          // Which symbols there are is asked while running; what they mean is not.
          for (const symbol of property.value.properties)
            if (symbol.type === 'Property' && symbol.key.type === 'Identifier')
              replace(symbol, `${symbol.key.name}: 0`);
      }
    },
  }).visit(parseSync('calculator.js', code).program);
  if (declared === 0 && declares.test(code.replace(/\/\*[\s\S]*?\*\//g, '')))
    throw new Error('printed-only: defineCalculator({...}) is here and was not recognised; nothing would be left out');
  const within = (inner: Span, outer: Span) => inner !== outer && inner.start >= outer.start && inner.end <= outer.end;
  return cuts
    .filter((one) => !cuts.some((other) => within(one, other)))
    .sort((a, b) => b.start - a.start)
    .reduce((left, { start, end, put }) => left.slice(0, start) + put + left.slice(end), code);
}

let rewritten = 0;

const plugin: Plugin = {
  name: 'printed-only',
  enforce: 'post',
  applyToEnvironment: ({ name }) => name === 'client',
  transform: {
    filter: {
      id: /\/calculators\/(?!(?:domain|evaluate|agreement|visit|exchange|query|learning)\/).*\.ts$/,
      code: /\b(defineCalculator\(|formula\(|help:|citation:)/,
    },
    handler(code) {
      rewritten += 1;
      return { code: withoutPrinted(code), map: null };
    },
  },
  buildEnd(error) {
    if (!error && rewritten === 0 && this.environment.mode === 'build')
      this.error('printed-only: no calculator came past; look at the path that the filter expects');
  },
};

export const printedOnly = (): AstroIntegration => ({
  name: 'printed-only',
  hooks: { 'astro:config:setup': ({ updateConfig }) => void updateConfig({ vite: { plugins: [plugin] } }) },
});

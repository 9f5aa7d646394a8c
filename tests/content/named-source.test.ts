import { expect, test } from 'vitest';
import { namingSource } from '../../src/components/named-source.ts';

test('a sentence about a source carries the name of the source', () => {
  expect(namingSource('The source recommends considering MI-E.', 'NICE NG42')).toBe(
    'NICE NG42 recommends considering MI-E.',
  );
  expect(namingSource("The source's figure says to consider NIV.", 'AAN 2009')).toBe(
    'The figure in AAN 2009 says to consider NIV.',
  );
  expect(namingSource('In this study, filling the chest helped.', 'Kang and Bach 2000')).toBe(
    'In Kang and Bach 2000, filling the chest helped.',
  );
  expect(namingSource('In this trial NIV shortened it.', 'Ward 2005 trial')).toBe(
    'In the Ward 2005 trial, NIV shortened it.',
  );
  expect(namingSource('The trial had two entry criteria.', 'Bourke 2006 trial')).toBe(
    'The Bourke 2006 trial had two entry criteria.',
  );
  expect(namingSource('The policy covers COPD only.', 'Medicare NCD 240.9')).toBe(
    'The Medicare NCD 240.9 policy covers COPD only.',
  );
  expect(namingSource('The study was small.', 'Withers abstract')).toBe('The study in the Withers abstract was small.');
  expect(namingSource('The figure does not say which.', 'AAN 2009')).toBe('The figure in AAN 2009 does not say which.');
  expect(namingSource('The source recommends NIV.', 'EFNS 2012 (old)')).toBe('EFNS 2012 recommends NIV.');
});

test('what is ours stays told apart from what is the source’s', () => {
  const ours = "Our wording, not the source's: call the same day.";
  expect(namingSource(ours, 'NICE NG42')).toBe(ours);
});

/** Names of diseases without criteria of their own, and other subjects: each leads to the section that is about it. */
import { globSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { asVisit, read, topics } from './lines.ts';

const nerve = '/diseases/nerve-disease-and-other-names/';
const congenital = '/diseases/congenital-myopathies/';
const diaphragm = '/diseases/diaphragm-first/';

/** What is typed, where it leads, and the disease whose criteria are shown; without one the person stays unnamed. */
const names: [line: string, page: string, anchor: string, disease?: string][] = [
  ['kennedy disease', nerve, 'kennedy-disease-sbma', 'other-chronic'],
  ["kennedy's disease", nerve, 'kennedy-disease-sbma', 'other-chronic'],
  ['sbma', nerve, 'kennedy-disease-sbma', 'other-chronic'],
  ['spinal and bulbar muscular atrophy', nerve, 'kennedy-disease-sbma', 'other-chronic'],
  ['charcot-marie-tooth', nerve, 'charcot-marie-tooth-disease-cmt', 'other-chronic'],
  ['cmt1a', nerve, 'charcot-marie-tooth-disease-cmt', 'other-chronic'],
  ['hmsn', nerve, 'charcot-marie-tooth-disease-cmt'],
  ['mitochondrial disease', nerve, 'mitochondrial-disease', 'other-chronic'],
  ['mitochondrial myopathy', nerve, 'mitochondrial-disease', 'other-chronic'],
  ['melas', nerve, 'mitochondrial-disease'],
  ['inclusion body myositis', nerve, 'inclusion-body-myositis', 'other-chronic'],
  ['ibm', nerve, 'inclusion-body-myositis', 'other-chronic'],
  ['polymyositis', nerve, 'other-myositis'],
  ['dermatomyositis', nerve, 'other-myositis'],
  ['myositis', nerve, 'other-myositis'],
  ['dm2', nerve, 'myotonic-dystrophy-type-2', 'other-chronic'],
  ['myotonic dystrophy type 2', nerve, 'myotonic-dystrophy-type-2', 'other-chronic'],
  ['promm', nerve, 'myotonic-dystrophy-type-2', 'other-chronic'],
  ['icu-acquired weakness', nerve, 'icu-acquired-weakness'],
  ['critical illness myopathy', nerve, 'icu-acquired-weakness'],
  ['critical illness polyneuropathy', nerve, 'icu-acquired-weakness'],
  ['nemaline myopathy', congenital, 'nemaline-myopathy', 'other-chronic'],
  ['ryr1', congenital, 'ryr1-central-core-and-minicore-disease', 'other-chronic'],
  ['central core disease', congenital, 'ryr1-central-core-and-minicore-disease', 'other-chronic'],
  ['selenon', congenital, 'selenon-sepn1-and-rigid-spine', 'cmd'],
  ['sepn1', congenital, 'selenon-sepn1-and-rigid-spine', 'cmd'],
  ['rigid spine', congenital, 'selenon-sepn1-and-rigid-spine'],
  ['ullrich', congenital, 'ullrich-and-bethlem-collagen-vi', 'cmd'],
  ['bethlem', congenital, 'ullrich-and-bethlem-collagen-vi', 'other-chronic'],
  ['collagen vi', congenital, 'ullrich-and-bethlem-collagen-vi'],
  ['myotubular myopathy', congenital, 'myotubular-and-other-centronuclear-disease', 'other-chronic'],
  ['centronuclear myopathy', congenital, 'myotubular-and-other-centronuclear-disease', 'other-chronic'],
  ['hmerf', diaphragm, 'hmerf-and-other-titin-disease', 'other-chronic'],
  ['myofibrillar myopathy', diaphragm, 'myofibrillar-myopathy-desmin-and-relatives', 'other-chronic'],
  ['desmin', diaphragm, 'myofibrillar-myopathy-desmin-and-relatives', 'other-chronic'],
  ['neuralgic amyotrophy', diaphragm, 'neuralgic-amyotrophy-parsonage-turner-syndrome'],
  ['parsonage-turner', diaphragm, 'neuralgic-amyotrophy-parsonage-turner-syndrome'],
  ['phrenic palsy', diaphragm, 'phrenic-palsy-one-side-or-both'],
  ['bilateral phrenic nerve palsy', diaphragm, 'phrenic-palsy-one-side-or-both'],
  ['diaphragm paralysis', diaphragm, 'phrenic-palsy-one-side-or-both'],
];

/** The addresses of the headings of a page, from its file. */
const anchorsOf = (page: string): string[] =>
  [...readFileSync(`content/handbook${page.slice(0, -1)}.mdx`, 'utf8').matchAll(/^## (.+)$/gm)].map(
    ([, heading = '']) =>
      heading
        .toLowerCase()
        .replace(/[^a-z0-9 -]/g, '')
        .replaceAll(' ', '-'),
  );

describe('a name leads to its section', () => {
  test.each(names)('%s', (line, page, anchor) => {
    expect(topics(line).map((topic) => `${topic.page}#${topic.anchor}`)).toContain(`${page}#${anchor}`);
    expect(anchorsOf(page)).toContain(anchor);
  });

  test.each(names)('%s with a reading: the reading and the disease stay', (line, page, _, disease) => {
    const asked = asVisit(read(`${line} fvc 45`));
    expect(asked?.readings['fvc-percent']?.value).toBe(45);
    expect(asked?.person.disease).toBe(disease);
    expect(asked?.topics?.map((topic) => topic.page)).toContain(page);
  });

  test('every page of names is reached by its own names only', () => {
    const reached = new Set(names.map(([, page]) => page));
    expect([...reached].sort()).toEqual([congenital, diaphragm, nerve].sort());
    for (const line of ['als', 'duchenne', 'myotonic dystrophy', 'myotonic dystrophy type 1', 'sma 2', 'pompe', 'fshd'])
      expect([line, topics(line).filter(({ page }) => reached.has(page))]).toEqual([line, []]);
  });

  test('a name that resembles another disease is not read as it', () => {
    expect(asVisit(read('neuralgic amyotrophy fvc 60'))?.person.disease).toBeUndefined();
    expect(asVisit(read('myotonic dystrophy type 2 fvc 60'))?.person.disease).toBe('other-chronic');
    expect(asVisit(read('myotonic dystrophy type 1 fvc 60'))?.person.disease).toBe('dm1');
    expect(asVisit(read('spinal and bulbar muscular atrophy fvc 60'))?.person.disease).toBe('other-chronic');
  });
});

describe('a subject leads to its page', () => {
  test.each([
    ['diaphragm pacing als', '/breathing/diaphragm-pacing/'],
    ['phrenic nerve pacing', '/breathing/diaphragm-pacing/'],
    ['is cpap enough', '/breathing/cpap-and-the-wrong-device/'],
    ['auto-titrating', '/breathing/cpap-and-the-wrong-device/'],
    ['obesity hypoventilation', '/breathing/cpap-and-the-wrong-device/'],
    ['dlco 45', '/measuring/low-capacity-that-is-not-weakness/'],
    ['interstitial lung disease', '/measuring/low-capacity-that-is-not-weakness/'],
    ['stridor', '/breathing/stridor-and-night-noises/'],
    ['vocal cord paralysis', '/breathing/stridor-and-night-noises/'],
    ['msa', '/breathing/stridor-and-night-noises/'],
    ['trach blocked', '/urgent/tracheostomy/'],
    ['blocked tracheostomy', '/urgent/tracheostomy/'],
    ['tracheostomy tube out', '/urgent/tracheostomy/'],
    ['laryngectomy', '/urgent/tracheostomy/'],
    ['speaking valve', '/breathing/tracheostomy-is-out-of-scope/'],
  ])('%s', (line, page) => expect(topics(line)[0]?.page).toBe(page));

  test('each page that is named here is a page', () => {
    const pages = globSync('content/handbook/**/*.mdx').map((file) => file.slice(16, -4));
    expect(names.filter(([, page]) => !pages.includes(page.slice(0, -1)))).toEqual([]);
  });
});

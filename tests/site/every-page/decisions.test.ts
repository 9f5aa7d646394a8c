import { pages } from '../built.ts';
import { examine } from '../examine-pages.ts';
import { partOf } from './parts.ts';

examine(pages.filter((page) => partOf(page) === 'decisions'));

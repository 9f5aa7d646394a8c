import { journeys } from './journeys.ts';
import { webkit } from './webkit.ts';

journeys(webkit);

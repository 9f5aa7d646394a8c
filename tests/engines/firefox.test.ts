import { firefox } from './firefox.ts';
import { journeys } from './journeys.ts';

journeys(firefox);

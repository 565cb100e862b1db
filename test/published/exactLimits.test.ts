import { sources } from './exactLimits.cases.js';
import { holds } from './holds.js';

holds(sources);

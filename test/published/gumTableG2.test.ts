import { sources } from './gumTableG2.cases.js';
import { holds } from './holds.js';

holds(sources);

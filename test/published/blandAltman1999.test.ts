import { sources } from './blandAltman1999.cases.js';
import { holds } from './holds.js';

holds(sources);

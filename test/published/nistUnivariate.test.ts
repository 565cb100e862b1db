import { holds } from './holds.js';
import { sources } from './nistUnivariate.cases.js';

holds(sources);

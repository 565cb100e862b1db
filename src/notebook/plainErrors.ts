import { inspect } from 'node:util';
import { MeterpairError } from '../error.js';

/**
 * Below a cell an error of the package is its sentence. The kernel prints errors as `inspect` has them,
 * which for the reader of a notebook buries the sentence under a stack and the fields of the error.
 */
Object.defineProperty(MeterpairError.prototype, inspect.custom, {
  configurable: true,
  value(this: MeterpairError): string {
    return this.message;
  },
});

export * from './vocabulary.js';

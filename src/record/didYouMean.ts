export { didYouMean, suggestion } from '../statistics/didYouMean.js';

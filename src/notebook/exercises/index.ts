/** The exercises at the end of the notebooks: each shows its question and gives what takes the answers. */
import type { Factors } from '../../vocabulary.js';
import { pose } from '../lessons/pose.js';
import { changeExercise } from './change.js';
import { orderExercise } from './order.js';
import { scoreExercise } from './score.js';
import { upperEndExercise } from './upperEnd.js';
import { waitingExercise } from './waiting.js';

export const order = (task: Parameters<typeof orderExercise>[0]) => pose(orderExercise(task));
export const upperEnd = (factors: Factors) => pose(upperEndExercise(factors));
export const waiting = (constants_s: readonly number[]) => pose(waitingExercise(constants_s));
export const score = (task: Parameters<typeof scoreExercise>[0]) => pose(scoreExercise(task));
export const change = (then: Factors, now: Factors) => pose(changeExercise(then, now));

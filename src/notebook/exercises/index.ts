import { posing } from '../lessons/pose.js';
import { changeExercise } from './change.js';
import { orderExercise } from './order.js';
import { scoreExercise } from './score.js';
import { upperEndExercise } from './upperEnd.js';
import { waitingExercise } from './waiting.js';

export const order = posing(orderExercise);
export const upperEnd = posing(upperEndExercise);
export const waiting = posing(waitingExercise);
export const score = posing(scoreExercise);
export const change = posing(changeExercise);

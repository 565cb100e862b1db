import { codeOf } from './regularFile.js';

/** Whether a process of this number lives, its owner whoever. */
export function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return codeOf(error) === 'EPERM';
  }
}

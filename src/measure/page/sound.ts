/** Tones before and at the reading time, set on the clock of the sound itself. */

/** Seconds before the reading time at which a short tone is heard. */
const BEFORE_S = [3, 2, 1];

let context: AudioContext | null = null;
let playing: readonly OscillatorNode[] = [];

/** Opening the sound can take a while: not when the beam goes on. Needs a key to have been pressed. */
export function openSound(): void {
  context ??= new AudioContext();
}

export function tonesUntil(seconds: number): void {
  silence();
  context ??= new AudioContext();
  const at = context.currentTime + seconds;
  const before = BEFORE_S.filter((early) => early < seconds);
  playing = [...before.map((early) => tone(at - early, 440, 0.12)), tone(at, 880, 0.6)];
}

export function silence(): void {
  for (const one of playing) one.stop();
  playing = [];
}

function tone(at: number, frequency: number, lasts: number): OscillatorNode {
  const sounding = context ?? new AudioContext();
  const one = sounding.createOscillator();
  const volume = sounding.createGain();
  volume.gain.value = 0.2;
  one.frequency.value = frequency;
  one.connect(volume).connect(sounding.destination);
  one.start(at);
  one.stop(at + lasts);
  return one;
}

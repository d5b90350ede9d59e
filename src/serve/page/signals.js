// What reaches a person who isn't looking: voice, tone, vibration.
import { settings } from './settings.js';

export function speak(words) {
  if (!settings.speak || !('speechSynthesis' in window)) return;
  const said = new SpeechSynthesisUtterance(words);
  said.lang = 'en-GB';
  said.rate = 0.95;
  speechSynthesis.speak(said);
}

export function hush() {
  if ('speechSynthesis' in window) speechSynthesis.cancel();
}

let sound;

/** Two short falling tones. A meter's beep is one and steady, so that they can't be confused. */
function tone() {
  const Sound = window.AudioContext ?? window.webkitAudioContext;
  if (!settings.tone || !Sound) return;
  sound ??= new Sound();
  for (const [start, pitch] of [
    [0, 520],
    [0.18, 330],
  ]) {
    const wave = sound.createOscillator();
    const loud = sound.createGain();
    const from = sound.currentTime + start;
    wave.type = 'triangle';
    wave.frequency.value = pitch;
    loud.gain.setValueAtTime(0.3, from);
    loud.gain.exponentialRampToValueAtTime(0.001, from + 0.16);
    wave.connect(loud).connect(sound.destination);
    wave.start(from);
    wave.stop(from + 0.17);
  }
}

export function alarm() {
  navigator.vibrate?.([200, 100, 200]);
  tone();
}

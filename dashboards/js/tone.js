// A short tone. Browsers let a page sound only after somebody has touched it; what is refused stays silent.

const LENGTH_S = 0.35;
let audio = null;

/** Sounds at this pitch, Hz, some seconds from now. */
export function tone(hz, inS = 0) {
  if (!navigator.userActivation?.hasBeenActive) return;
  audio ??= new AudioContext();
  const gain = audio.createGain();
  const source = audio.createOscillator();
  const at = audio.currentTime + inS;
  source.frequency.value = hz;
  gain.gain.setValueAtTime(0.2, at);
  gain.gain.exponentialRampToValueAtTime(0.001, at + LENGTH_S);
  source.connect(gain).connect(audio.destination);
  source.start(at);
  source.stop(at + LENGTH_S);
}

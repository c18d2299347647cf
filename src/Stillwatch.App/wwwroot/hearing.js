// Plays a score that the server made: bursts of pulses by priority, with a line that runs along the timeline. For listening, never for alarming.

let context = null;
let volume = null;
let master = null;
let frame = 0;
let shown = null;

export function setVolume(level) {
  if (volume) volume.gain.setTargetAtTime(level, context.currentTime, 0.02);
}

export function stop() {
  cancelAnimationFrame(frame);
  if (master) { master.disconnect(); master = null; }
  if (shown) { shown.setAttribute('visibility', 'hidden'); shown = null; }
}

function waveOf(pattern) {
  const real = new Float32Array(pattern.harmonics.length + 2);
  const imag = new Float32Array(pattern.harmonics.length + 2);
  imag[1] = 1;
  pattern.harmonics.forEach((level, i) => { imag[i + 2] = level; });
  return context.createPeriodicWave(real, imag);
}

export async function play(score, timeline, level) {
  stop();
  context ??= new AudioContext();
  await context.resume();
  if (!volume) {
    volume = context.createGain();
    volume.connect(context.destination);
  }
  volume.gain.value = level;
  master = context.createDynamicsCompressor(); // many signals at once may not overload the loudspeaker
  master.connect(volume);
  const start = context.currentTime + 0.15;
  const waves = Object.fromEntries(Object.entries(score.patterns).map(([name, pattern]) => [name, waveOf(pattern)]));
  const mine = master;
  for (const burst of score.bursts) {
    const pattern = score.patterns[burst.priority];
    const source = context.createOscillator();
    const shape = context.createGain();
    source.setPeriodicWave(waves[burst.priority]);
    source.frequency.value = pattern.fundamental;
    shape.gain.value = 0;
    const at = start + burst.at;
    for (const pulse of pattern.pulses) {
      const rise = pulse.length * pattern.rise;
      shape.gain.setValueAtTime(0, at + pulse.at);
      shape.gain.linearRampToValueAtTime(0.3, at + pulse.at + rise);
      shape.gain.setValueAtTime(0.3, at + pulse.at + pulse.length - rise);
      shape.gain.linearRampToValueAtTime(0, at + pulse.at + pulse.length);
    }
    const last = pattern.pulses[pattern.pulses.length - 1];
    source.connect(shape).connect(mine);
    source.start(at);
    source.stop(at + last.at + last.length + 0.01);
  }
  shown = timeline.querySelector('.cursor');
  const run = () => {
    if (master !== mine) return;
    const share = (context.currentTime - start) / score.length;
    if (share >= 1) { stop(); return; }
    const x = Math.max(0, share * 1000).toFixed(1);
    shown.setAttribute('visibility', 'visible');
    shown.setAttribute('x1', x);
    shown.setAttribute('x2', x);
    frame = requestAnimationFrame(run);
  };
  run();
}

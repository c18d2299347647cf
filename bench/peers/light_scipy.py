"""What a skilled script does with two channels of light: band-pass of both (sosfilt), beats (find_peaks), each beat's correlation with the mean pulse.

Usage: light_scipy.py FILE RATE KIND. FILE holds little-endian doubles: all of the infrared light, then all of the red, as counts. KIND is
  loop     as such a script is mostly written: numpy.corrcoef beat by beat
  whole    no loop over samples or beats
  bounded  the same by one who knows find_peaks: the search for each peak's foot is bounded (wlen), which is where its time goes
Answers one line at a time: 'version', 'run' (seconds of one whole run), 'counts PATH' (writes int64: beats found, then their times in milliseconds,
at the upstroke as the program gives them: the steepest rise before each peak).
"""
import sys
import time

import numpy as np
import scipy
from scipy.signal import butter, find_peaks, sosfilt

file, rate, kind = sys.argv[1], float(sys.argv[2]), sys.argv[3]
light = np.fromfile(file, dtype="<f8").reshape(2, -1)
# Made once, as a script would that has many files to go through.
SECTIONS = butter(2, [0.5, 8], btype="band", fs=rate, output="sos")
BEFORE, AFTER = int(0.25 * rate), int(0.45 * rate)
SHORTEST = int(0.3 * rate)


def steps():
    """Band-passed pulse, peaks, correlation of each beat with the mean of all."""
    volume = -np.log(light)
    pulse, _ = sosfilt(SECTIONS, volume - volume[:, :SHORTEST].mean(axis=1, keepdims=True))
    bound = int(2 * rate) if kind == "bounded" else None
    peaks, _ = find_peaks(pulse, distance=SHORTEST, prominence=0.5 * pulse.std(), wlen=bound)
    whole = peaks[(peaks >= BEFORE) & (peaks + AFTER <= len(pulse))]
    if kind == "loop":
        template = np.mean([pulse[p - BEFORE:p + AFTER] for p in whole], axis=0)
        return pulse, peaks, np.array([np.corrcoef(template, pulse[p - BEFORE:p + AFTER])[0, 1] for p in whole])
    beats = np.lib.stride_tricks.sliding_window_view(pulse, BEFORE + AFTER)[whole - BEFORE]
    beats = beats - beats.mean(axis=1, keepdims=True)
    template = beats.mean(axis=0)
    template /= np.sqrt(template @ template)
    correlation = (beats @ template) / np.sqrt(np.einsum("ij,ij->i", beats, beats))
    return pulse, peaks, correlation


def upstrokes():
    """Beats in milliseconds; the filter's own delay is left in, for the comparison takes the median off."""
    pulse, peaks, correlation = steps()
    rise = np.diff(pulse, prepend=pulse[0])
    found = [p - 1 - np.argmax(rise[max(0, p - SHORTEST):p][::-1]) for p in peaks]
    return np.concatenate([[len(peaks), round(1e6 * float(np.median(correlation)))], np.round(1000 * np.asarray(found) / rate)])


for line in sys.stdin:
    word, _, rest = line.strip().partition(" ")
    if word == "version":
        print(f"scipy {scipy.__version__}, numpy {np.__version__}, Python {sys.version.split()[0]}, {kind}", flush=True)
    elif word == "run":
        start = time.perf_counter()
        steps()
        print(repr(time.perf_counter() - start), flush=True)
    elif word == "counts":
        np.asarray(upstrokes(), dtype="<i8").tofile(rest)
        print("written", flush=True)

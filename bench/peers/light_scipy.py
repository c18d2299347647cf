"""What a skilled script does with two channels of light: band-pass of both (sosfilt), beats (find_peaks), each beat's correlation with the mean pulse.

Usage: light_scipy.py FILE RATE. FILE holds little-endian doubles: all of the infrared light, then all of the red, as counts. Vectorised throughout: no loop over samples or beats.
Answers one line at a time: 'version', 'run' (seconds of one whole run), 'counts PATH' (writes int64: beats found, then their times in milliseconds,
at the upstroke as the program gives them: the steepest rise before each peak).
"""
import sys
import time

import numpy as np
import scipy
from scipy.signal import butter, find_peaks, sosfilt

file, rate = sys.argv[1], float(sys.argv[2])
light = np.fromfile(file, dtype="<f8").reshape(2, -1)
# Made once, as a script would that has many files to go through.
SECTIONS = butter(2, [0.5, 8], btype="band", fs=rate, output="sos")
BEFORE, AFTER = int(0.25 * rate), int(0.45 * rate)
SHORTEST = int(0.3 * rate)


def steps():
    """Band-passed pulse, peaks, correlation of each beat with the mean of all."""
    volume = -np.log(light)
    pulse, _ = sosfilt(SECTIONS, volume - volume[:, :SHORTEST].mean(axis=1, keepdims=True))
    peaks, _ = find_peaks(pulse, distance=SHORTEST, prominence=0.5 * pulse.std())
    whole = peaks[(peaks >= BEFORE) & (peaks + AFTER <= len(pulse))]
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
        print(f"scipy {scipy.__version__}, numpy {np.__version__}, Python {sys.version.split()[0]}", flush=True)
    elif word == "run":
        start = time.perf_counter()
        steps()
        print(repr(time.perf_counter() - start), flush=True)
    elif word == "counts":
        np.asarray(upstrokes(), dtype="<i8").tofile(rest)
        print("written", flush=True)

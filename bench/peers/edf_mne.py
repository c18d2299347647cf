"""Reads one signal of an EDF FILE with python3-mne, told to leave out all others, and prints what the bench needs on one line.

Usage: edf_mne.py FILE LABEL WARM_UP. Exit status 3: mne is not installed.
"""
import resource
import sys
import time

try:
    import mne
except ImportError as missing:
    print(missing)
    sys.exit(3)

file, label, warm_up = sys.argv[1:]
mne.set_log_level("ERROR")
mne.io.read_raw_edf(warm_up, include=[label], preload=True)
started = time.perf_counter()
raw = mne.io.read_raw_edf(file, include=[label], preload=True)
seconds = time.perf_counter() - started
values = raw.get_data()[0] * 1000  # volts to the file's millivolts
peak_megabytes = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
print(f"seconds={seconds:.4f} samples={len(values)} sum={float(values.sum())!r} peakMB={peak_megabytes:.0f} mne={mne.__version__} python={sys.version.split()[0]}")

"""Reads FILE with pandas the fastest ordinary way and prints what the bench needs on one line.

The same work as our reader: times parsed, both columns typed. Times are ISO 8601 with milliseconds and without a zone; giving the
format lets pandas take its fast road for ISO times, and both columns are numbers of a fixed type.
Usage: csv_pandas.py FILE. Exit status 3: pandas is not installed.
"""
import resource
import sys
import time

try:
    import numpy
    import pandas
except ImportError as missing:
    print(missing)
    sys.exit(3)

started = time.perf_counter()
processor_started = time.process_time()
frame = pandas.read_csv(sys.argv[1], engine="c", dtype={"spo2": "float32", "pulse": "float32"})
frame["time"] = pandas.to_datetime(frame["time"], format="%Y-%m-%dT%H:%M:%S.%f")
seconds = time.perf_counter() - started
processor_seconds = time.process_time() - processor_started

assert frame["time"].dtype == "datetime64[ns]" and frame["spo2"].dtype == numpy.float32
peak_megabytes = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
span = (frame["time"].iloc[-1] - frame["time"].iloc[0]).total_seconds()
print(f"seconds={seconds:.3f} cpu={processor_seconds:.3f} rows={len(frame)} numbers={int(frame['spo2'].notna().sum())} sum={frame['spo2'].astype('float64').sum():.1f} "
      f"span={span:.0f} peakMB={peak_megabytes:.0f} pandas={pandas.__version__} numpy={numpy.__version__} python={sys.version.split()[0]}")

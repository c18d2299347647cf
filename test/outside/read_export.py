"""Reads an export with programs that are not ours (pandas; Python's own JSON) and prints what it holds as JSON.

    read_export.py night.csv     column after column as pandas.read_csv gives it; null where pandas says missing
    read_export.py night.json    channel after channel, values or counts as they stand

Standard library and pandas; test/Stillwatch.Formats.Tests compares the output with the recording.
"""

import json
import sys


def table(path):
    import pandas

    frame = pandas.read_csv(path)
    return [[name, [None if pandas.isna(cell) else cell for cell in frame[name].tolist()]] for name in frame.columns]


def document(path):
    with open(path, encoding="utf-8") as file:
        recording = json.load(file)
    return [[channel["label"], channel.get("values", channel.get("counts"))] for channel in recording["channels"]]


path = sys.argv[1]
json.dump(document(path) if path.endswith(".json") else table(path), sys.stdout)

using Stillwatch.Signals;

namespace Stillwatch.Formats;

/// <summary>Writes a recording to a file of an open format. What the format cannot hold is listed, never dropped silently.</summary>
public interface IRecordingWriter
{
    /// <summary>As a person would name it: "EDF+".</summary>
    string Format { get; }

    /// <summary>The ending of its files, with the dot.</summary>
    string Extension { get; }

    /// <param name="recording">Its channels keep their order.</param>
    /// <param name="to">Written from where it stands, forwards only; not closed.</param>
    /// <returns>What is rounded or left out, with the greatest error; empty where the file reads back to the same recording.</returns>
    /// <exception cref="UnwritableRecordingException">The format cannot hold the recording at all.</exception>
    IReadOnlyList<ReadIssue> Write(Recording recording, Stream to);
}

/// <summary>A recording that a format cannot hold.</summary>
public sealed class UnwritableRecordingException(string found, string expected, string where, string whatHelps)
    : Exception($"{where}: found {found}; expected {expected}. What helps: {whatHelps}.")
{
    public string Found { get; } = found;

    public string Expected { get; } = expected;

    public string Where { get; } = where;

    public string WhatHelps { get; } = whatHelps;
}

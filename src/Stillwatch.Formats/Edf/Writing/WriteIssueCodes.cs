namespace Stillwatch.Formats.Edf.Writing;

/// <summary>The stable names of what the writers of EDF+ and BDF+ list.</summary>
public static class WriteIssueCodes
{
    /// <summary>Values rounded, with the greatest error.</summary>
    public const string Rounded = "write.rounded";

    /// <summary>A label cut, renamed or spelled otherwise.</summary>
    public const string Label = "write.label";

    /// <summary>A unit cut or spelled otherwise.</summary>
    public const string Unit = "write.unit";

    /// <summary>A note with characters that the format keeps for itself.</summary>
    public const string Text = "write.text";

    /// <summary>A note whose length lies below zero.</summary>
    public const string Length = "write.length";

    /// <summary>Rows before the time origin: the file begins with the first of them.</summary>
    public const string Origin = "write.origin";

    /// <summary>An even rate whose samples lie between those of the file: the times come back to the millisecond, the rate does not.</summary>
    public const string Rate = "write.rate";

    /// <summary>Data records longer than the 61 440 bytes that EDF recommends.</summary>
    public const string RecordSize = "write.record-size";

    /// <summary>A date that the short date field cannot hold.</summary>
    public const string Date = "write.date";
}

using Stillwatch.Time;

namespace Stillwatch.Signals;

/// <summary>The averaging that the source applied before it gave out its values; carried on every output (rule R4).</summary>
/// <param name="Window">Its averaging time; null: not known.</param>
public sealed record SourceAveraging(Duration? Window)
{
    public static readonly SourceAveraging Unknown = new((Duration?)null);

    public bool IsKnown => Window is not null;

    public override string ToString() => Window is { } w ? $"{w.Seconds:0.###} s" : "not known";
}

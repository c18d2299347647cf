using Stillwatch.Signals;

namespace Stillwatch.Formats.Edf.Writing;

/// <summary>The two ends of a signal's scale as the header states them; every number has an exact text of eight characters.</summary>
internal sealed record SignalScale(int DigitalMinimum, int DigitalMaximum, decimal PhysicalMinimum, decimal PhysicalMaximum)
{
    /// <summary>For a channel without a number.</summary>
    public static readonly SignalScale Empty = new(0, 100, 0, 100);

    public Calibration Calibration { get; } = Calibration.OfRange(DigitalMinimum, DigitalMaximum, PhysicalMinimum, PhysicalMaximum);

    public double Step => Math.Abs(Calibration.Step);
}

using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Oximetry;

/// <summary>
/// Derived numbers as a recording of their own, a row a second, that says of itself in every channel's label and in its notes that no
/// monitor gave it. The source's channels are not in it.
/// </summary>
public static class DerivedNumerics
{
    public const string SpO2 = "SpO2 derived", PulseRate = "Pulse derived", Perfusion = "PI derived", Quality = "Quality derived", State = "State derived", RespiratoryRate = "Resp derived";

    /// <summary>How every note begins, so that text alone tells whose the numbers are.</summary>
    public const string Notice = "derived by Stillwatch from light, not the monitor's reading, not for diagnosis";

    private const double LargestMicro = int.MaxValue - 1;

    /// <summary>Whether a channel's label is one of those that only derived numbers have.</summary>
    public static bool IsLabel(string label) => label is SpO2 or PulseRate or Perfusion or Quality or State or RespiratoryRate;

    /// <summary>Whether a recording holds derived numbers in place of a monitor's.</summary>
    public static bool IsDerived(Recording recording) =>
        recording.Channels.Any(c => IsLabel(c.Label)) || recording.Annotations.Any(a => a.Origin == AnnotationOrigin.Derived);

    /// <summary>
    /// Second k is a row at <see cref="DerivedRecording.Start"/> + k s, a window's respiratory rate a row at the window's start; a refused number is
    /// a row without one. SpO2 and pulse rate to 0.01, perfusion to 0.0001, quality to 0.001. The state is the number of <see cref="LightState"/>.
    /// </summary>
    /// <param name="source">What was derived from: its name and start are kept.</param>
    /// <param name="derived">Of that recording.</param>
    public static Recording Of(Recording source, DerivedRecording derived)
    {
        var seconds = derived.Seconds;
        var times = TimeAxis.Even(derived.Start, new Duration(1000), seconds.Count);
        var channels = new List<Channel>();
        if (derived.Plan.RedLabel is not null) channels.Add(new Channel(SpO2, ChannelKind.SpO2, "%", times, Column(seconds, s => s.SpO2Percent, 2)));
        channels.Add(new Channel(PulseRate, ChannelKind.PulseRate, "/min", times, Column(seconds, s => s.PulseRatePerMinute, 2)));
        if (derived.Plan.IsLight) channels.Add(new Channel(Perfusion, ChannelKind.PerfusionIndex, "%", times, Column(seconds, s => s.PerfusionPercent, 4)));
        channels.Add(new Channel(Quality, ChannelKind.SignalQuality, "1", times, Column(seconds, s => s.Quality, 3)));
        channels.Add(new Channel(State, ChannelKind.Other, "", times, Column(seconds, s => (int)s.State, 0)));
        if (derived.Breathing.Count > 0)
        {
            var windows = TimeAxis.Even(derived.Start + Milliseconds(derived.Breathing[0].StartSeconds), Milliseconds(derived.Breathing[0].LengthSeconds), derived.Breathing.Count);
            channels.Add(new Channel(RespiratoryRate, ChannelKind.Other, "/min", windows, Column(derived.Breathing, b => b.RatePerMinute, 2)));
        }

        return new Recording(source.Name, source.Start, channels, new SourceAveraging(derived.Settings.Averaging), Notes(derived));
    }

    /// <summary>One note over the whole, then one for each stretch without numbers.</summary>
    public static IReadOnlyList<Annotation> Notes(DerivedRecording derived)
    {
        var plan = derived.Plan;
        string light = plan.RedLabel is null ? $"\"{plan.PulseLabel}\"" : $"\"{plan.PulseLabel}\" and \"{plan.RedLabel}\"";
        string curve = plan.RedLabel is null ? $"no SpO2, for {plan.NoSaturationBecause ?? "there is no red light"}" : $"calibration curve \"{derived.Settings.Curve.Name}\" ({derived.Settings.Curve.Source}; {derived.Settings.CurveBecause})";
        var whole = new Duration(derived.Seconds.Count * 1000L);
        var notes = new List<Annotation>
        {
            new(derived.Start, whole, $"{Notice}; from {light}; {curve}; averaged over {derived.Settings.Averaging.Seconds:0.###} s", AnnotationOrigin.Derived),
        };
        foreach (var (span, state) in DerivedSummary.Stretches(derived))
        {
            if (state != LightState.Valid) notes.Add(new Annotation(span.Start, span.Length, $"{state.RefusalInWords()} ({Notice})", AnnotationOrigin.Derived));
        }

        return notes;
    }

    private static Duration Milliseconds(double seconds) => new((long)Math.Round(seconds * 1000));

    private static ValueColumn Column<T>(IReadOnlyList<T> items, Func<T, double> value, int decimals)
    {
        var column = new ValueColumn.Builder();
        foreach (var item in items)
        {
            double number = Math.Round(value(item), decimals, MidpointRounding.AwayFromZero) * FixedPoint.One;
            column.Add(double.IsFinite(number) && Math.Abs(number) <= LargestMicro ? (int)Math.Round(number) : ValueColumn.Missing);
        }

        return column.Build();
    }
}

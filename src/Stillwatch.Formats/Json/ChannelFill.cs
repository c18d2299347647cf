using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Json;

/// <summary>Collects the rows of a channel whose header is known, or follows, and makes the channel once both are there.</summary>
/// <param name="wrong">Makes the error from found and expected.</param>
internal sealed class ChannelFill(Func<string, string, UnreadableFileException> wrong)
{
    private ValueColumn.Builder? values;
    private CountColumn.Builder? counts;
    private TimeAxis.Builder? times;

    /// <summary>Whether the samples are kept; where not, they are counted only.</summary>
    public bool IsHeld { get; set; } = true;

    public int Rows { get; private set; }

    /// <param name="micro">Millionths of the unit, or <see cref="ValueColumn.Missing"/>.</param>
    public void AddValue(int micro)
    {
        Count();
        if (IsHeld) (values ??= new ValueColumn.Builder()).Add(micro);
    }

    /// <param name="count">Of the converter, or <see cref="CountColumn.Missing"/>.</param>
    public void AddCount(int count)
    {
        Count();
        if (IsHeld) (counts ??= new CountColumn.Builder()).Add(count);
    }

    /// <summary>Counts rows whose samples are not kept.</summary>
    public void Pass(int rows) => Rows = checked(Rows + rows);

    public void AddTime(long milliseconds)
    {
        times ??= new TimeAxis.Builder();
        if (times.Count > 0 && milliseconds <= times.LastMilliseconds) throw wrong($"a row at {milliseconds} ms after one at {times.LastMilliseconds} ms", "times that rise");
        if (Math.Abs(milliseconds) > RecordingFields.MostMilliseconds) throw wrong($"a row at {milliseconds} ms", "times within a hundred thousand years");
        times.Add(milliseconds);
    }

    /// <summary>Millionths of a decimal that must fit.</summary>
    public int MicroOf(decimal value)
    {
        if (Math.Abs(value) <= int.MaxValue / (decimal)FixedPoint.One)
        {
            decimal micro = value * FixedPoint.One;
            if (decimal.Truncate(micro) == micro) return (int)micro;
        }

        throw wrong($"the value {value}", "at most six decimals, within ±2147.483647");
    }

    /// <summary>The axis of the channel, which is one of <paramref name="axes"/> where an earlier channel has it.</summary>
    public TimeAxis Axis(ChannelHeader header, IReadOnlyList<TimeAxis> axes)
    {
        if (Rows != header.Axis.Count) throw wrong($"{Rows} rows in channel {IssueLog.Show(header.Label)}", $"{header.Axis.Count}, as its axis says");
        if (header.Axis is not AxisHeader.Uneven && times is not null) throw wrong($"times in channel {IssueLog.Show(header.Label)}", "none: its axis tells them");
        return header.Axis switch
        {
            AxisHeader.Even even => AxisHeader.Build(even),
            AxisHeader.Same same => axes[same.Channel],
            AxisHeader.Uneven uneven when (times?.Count ?? 0) == Rows => (times ?? new TimeAxis.Builder()).Build(uneven.DeclaredPeriod),
            _ => throw wrong($"{times?.Count ?? 0} times in channel {IssueLog.Show(header.Label)}", $"one for each of {Rows} rows"),
        };
    }

    public Channel Build(ChannelHeader header, TimeAxis axis)
    {
        if (header.Calibration is { } calibration)
        {
            if (values is not null) throw wrong($"values in channel {IssueLog.Show(header.Label)}", "counts, because it has a calibration");
            return new Channel(header.Label, header.Kind, header.Unit, axis, (counts ?? new CountColumn.Builder()).Build(calibration));
        }

        if (counts is not null) throw wrong($"counts without a calibration in channel {IssueLog.Show(header.Label)}", "values, or a calibration");
        return new Channel(header.Label, header.Kind, header.Unit, axis, (values ?? new ValueColumn.Builder()).Build());
    }

    private void Count()
    {
        if (Rows == int.MaxValue) throw wrong($"more than {int.MaxValue} rows in one channel", "fewer");
        Rows++;
    }
}

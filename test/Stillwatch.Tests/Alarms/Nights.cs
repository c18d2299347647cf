using CsCheck;
using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Tests.Alarms;

/// <summary>Drawn nights: stretches of steady and wandering values, dropouts, missing rows long and short, jumps; and settings to go with them.</summary>
internal static class Nights
{
    private static readonly Gen<List<decimal?>> Stretch = Gen.Select(Gen.Int[0, 9], Gen.Int[740, 990], Gen.Int[1, 30], Gen.Int[-4, 4].Array[30], (kind, tenths, count, steps) =>
    {
        var values = new List<decimal?>();
        for (int i = 0; i < count; i++)
        {
            decimal whole = Math.Round(tenths / 10m);
            values.Add(kind switch
            {
                0 => null,
                1 => 0,
                2 => tenths / 10m,
                3 => whole + steps[i] / 2m,
                4 => i % 3 == 0 ? whole : null,
                _ => whole,
            });
        }

        // Long enough to be lost for more than a minute now and then.
        if (kind == 0 && tenths % 3 == 0) values.AddRange(Enumerable.Repeat((decimal?)null, 55));
        return values;
    });

    public static readonly Gen<List<decimal?>> Values = Stretch.Array[1, 25].Select(s => s.SelectMany(v => v).ToList());

    public static readonly Gen<Duration> Period = Gen.OneOf(new Duration(1000), new Duration(1000), new Duration(500), new Duration(2000), new Duration(10_000));

    public static readonly Gen<ConditioningSettings> Conditioning = Gen.Select(
        Gen.Bool, Gen.OneOf(0, 0, 2, 3, 8), Gen.OneOf(0, 2, 5), Gen.Bool,
        (standard, averaging, tolerance, rounded) => new ConditioningSettings(
            standard ? ValidityRule.Standard : ValidityRule.None, Duration.FromSeconds(averaging), Duration.FromSeconds(tolerance), rounded ? Rounding.Display : Rounding.None));

    public static readonly Gen<LimitSettings<Percent>> Low = Gen.Select(
        Gen.Int[78, 95], Gen.OneOf(0m, 0m, 1m, 4m, 7.5m, 15m), Gen.OneOf(0m, 0m, 10m, 33.3m), Gen.Int[0, 4],
        (limit, delay, area, margin) => new LimitSettings<Percent>(Percent.Of(limit), Duration.FromSeconds(delay), Area.Of(area), Percent.Of(margin)));

    public static readonly Gen<BackstopSettings?> Backstop = Gen.Select(Gen.Bool, Gen.Int[70, 77], Gen.Int[0, 6],
        (on, limit, delay) => on ? new BackstopSettings(Percent.Of(limit), Duration.FromSeconds(delay)) : null);

    public static readonly Gen<Night> Any = Gen.Select(Values, Period, Conditioning, Low, Backstop, (v, p, c, l, b) => new Night(v, p, c, l, b));
}

/// <summary>A series with low settings.</summary>
internal sealed record Night(List<decimal?> Values, Duration Period, ConditioningSettings Conditioning, LimitSettings<Percent> Low, BackstopSettings? Backstop)
{
    public ConditionedSource Source => ConditionedSource.Even(Values, Period);

    public AlarmSettings Settings => new() { SpO2Conditioning = Conditioning, SpO2Low = Low, Backstop = Backstop };

    public AlarmFeed Feed => new(Period);

    public SampleTime End => new(Values.Count * Period.Milliseconds);

    public IEnumerable<AlarmInput> Rows(long shiftMilliseconds = 0) => Values.Select((v, i) =>
        AlarmInput.Of(new AlarmRow(new SampleTime(i * Period.Milliseconds + shiftMilliseconds), v is { } value ? FixedPoint.ToMicro(value) : Stillwatch.Signals.ValueColumn.Missing)));

    public override string ToString() => $"P {Period}, {Conditioning}, {Low}, {Backstop}: {string.Join(' ', Values.Select(v => v?.ToString() ?? "."))}";
}

using Stillwatch.Conditioning;
using Stillwatch.Rehearsal;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Tests.Rehearsal;

/// <summary>The invented ward must be the same every time, and hold what its stories say. Invented data: nothing here is evidence about patients.</summary>
public sealed class DemoWardTests
{
    private const int ShortNight = 2 * 3600;
    private static readonly RehearsalWard Ward = DemoWard.Compose(DemoWard.DefaultSeed, ShortNight);

    [Fact]
    public void The_same_seed_gives_the_same_ward_to_the_last_digit()
    {
        var again = DemoWard.Compose(DemoWard.DefaultSeed, ShortNight);
        Assert.Equal(Fingerprint(Ward), Fingerprint(again));
        Assert.NotEqual(Fingerprint(Ward), Fingerprint(DemoWard.Compose(DemoWard.DefaultSeed + 1, ShortNight)));
    }

    [Fact]
    public void Twelve_patients_of_several_categories_have_two_nights_each()
    {
        Assert.Equal(12, Ward.Patients.Count);
        Assert.All(Ward.Patients, p => Assert.Equal(2, p.Nights.Count));
        Assert.True(Ward.Patients.Select(p => p.Profile.Category).Distinct().Count() >= 4);
    }

    [Fact]
    public void A_true_significant_fall_is_seen_by_a_well_placed_sensor()
    {
        foreach (var night in Ward.Patients[7].Nights)
        {
            var spo2 = night.Recording.Find(ChannelKind.SpO2)!;
            foreach (var fall in night.Episodes.Where(e => e.Kind == TruthKind.SignificantDesaturation))
                Assert.Contains(Rows(spo2, fall.Span), micro => micro is > 0 and < 86_000_000);
        }
    }

    [Fact]
    public void Movement_lowers_the_reading_and_not_the_patient()
    {
        var night = Ward.Patients[3].Nights[0];
        foreach (var motion in night.Episodes.Where(e => e.Kind == TruthKind.Motion))
        {
            for (long t = motion.Span.Start.Milliseconds; t < motion.Span.End.Milliseconds; t += 1000)
                Assert.True(night.TrueSaturation[(int)(t / 1000)] > 91);
        }
    }

    [Fact]
    public void A_sensor_that_is_off_reads_zero_and_is_never_taken_for_a_value()
    {
        var night = Ward.Patients[5].Nights[0];
        var source = ConditionedSource.SpO2Of(night.Recording)!;
        var series = ConditionedSeries.Of(source, ConditioningSettings.Default);
        Assert.Contains(night.Episodes, e => e.Kind == TruthKind.SensorOff);
        Assert.DoesNotContain(series.Pieces, p => p.Micro <= 0);
        Assert.InRange(series.Coverage, 0.5, 0.99);
    }

    private static IEnumerable<int> Rows(Channel channel, TimeSlice span)
    {
        for (int i = channel.Times.IndexAtOrAfter(span.Start); i < channel.Times.Count && channel.Times.TimeAt(i) < span.End; i++)
            yield return channel.Values[i];
    }

    private static long Fingerprint(RehearsalWard ward)
    {
        long hash = 17;
        foreach (var channel in ward.Patients.SelectMany(p => p.Nights).SelectMany(n => n.Recording.Channels))
        {
            for (int i = 0; i < channel.Values.Count; i++) hash = unchecked(hash * 31 + channel.Values[i]);
        }

        return hash;
    }
}

using System.Buffers.Binary;
using CsCheck;
using Stillwatch.Alarms;
using Stillwatch.Alarms.Sound;
using Stillwatch.Time;
using Xunit;

namespace Stillwatch.Tests.Sound;

/// <summary>A night pressed into a minute: every signal is heard, none twice, none outside.</summary>
public class NightScoreTests
{
    private static readonly TimeSlice Night = Slice(0, 8 * 3600);

    private static readonly Gen<HeardSignal> AnySignal = Gen.Select(Gen.Int[-600, 9 * 3600], Gen.Int[1, 3000], Gen.Int[0, 3])
        .Select((start, length, priority) => new HeardSignal(Slice(start, start + length), (AlarmPriority)priority));

    [Theory]
    [InlineData(0, 10, AlarmPriority.Medium, "0.000")]
    [InlineData(4 * 3600, 4 * 3600 + 10, AlarmPriority.High, "30.000")]
    [InlineData(28790, 28800, AlarmPriority.Medium, "59.775")] // at the very end it begins early enough to be heard whole
    [InlineData(0, 3600, AlarmPriority.Low, "0.000")] // a low one is not repeated however long it lasts
    [InlineData(0, 2400, AlarmPriority.Medium, "0.000 2.100 4.200")] // 2400 s are 5 s of sound: a burst of 0.225 s every 2.1 s
    [InlineData(0, 10, AlarmPriority.None, "")]
    [InlineData(-100, -1, AlarmPriority.High, "")]
    [InlineData(-100, 20, AlarmPriority.Medium, "0.000")]
    public void A_signal_becomes_a_burst_at_its_part_of_the_minute(int start, int end, AlarmPriority priority, string bursts)
    {
        var score = NightScore.Of([new HeardSignal(Slice(start, end), priority)], Night, NightScore.Minute);
        Assert.Equal(480, score.TimesFaster);
        Assert.Equal(bursts, string.Join(' ', score.Bursts.Select(b => $"{b.Start.Seconds:0.000}")));
    }

    [Fact]
    public void Every_signal_inside_the_night_is_heard_whole_and_bursts_stand_in_time_order() =>
        AnySignal.Array[0, 60].Sample(signals =>
        {
            var score = NightScore.Of(signals, Night, NightScore.Minute);
            int inside = signals.Count(s => s.Priority != AlarmPriority.None && s.Span.Start < Night.End && s.Span.End > Night.Start);
            Assert.Equal(inside, score.Signals);
            Assert.True(score.Bursts.Count >= inside);
            Assert.Equal(score.Bursts.OrderBy(b => b.Start), score.Bursts);
            Assert.All(score.Bursts, b =>
            {
                Assert.True(b.Start >= Duration.Zero);
                Assert.True(b.Start.Milliseconds + BurstPatterns.Of(b.Priority)!.Length.Milliseconds / NightScore.BurstsFaster <= score.Length.Milliseconds);
            });
        }, iter: 300, threads: 1);

    [Fact]
    public void More_signals_never_make_fewer_bursts() =>
        Gen.Select(AnySignal.Array[0, 30], AnySignal).Sample((signals, more) =>
            Assert.True(NightScore.Of([.. signals, more], Night, NightScore.Minute).Bursts.Count >= NightScore.Of(signals, Night, NightScore.Minute).Bursts.Count), iter: 300, threads: 1);

    [Fact]
    public void A_span_shorter_than_a_minute_is_heard_as_long_as_it_lasted()
    {
        var score = NightScore.Of([], Slice(0, 20), NightScore.Minute);
        Assert.Equal((20.0, 1.0), (score.Length.Seconds, score.TimesFaster));
    }

    [Fact]
    public void Without_time_there_is_nothing_to_hear()
    {
        Assert.Throws<ArgumentException>(() => NightScore.Of([], Slice(5, 5), NightScore.Minute));
        Assert.Throws<ArgumentException>(() => NightScore.Of([], Night, Duration.Zero));
    }

    [Fact]
    public void The_sound_is_silent_but_where_a_pulse_stands()
    {
        var score = NightScore.Of([new HeardSignal(Slice(4 * 3600, 4 * 3600 + 10), AlarmPriority.Medium)], Night, NightScore.Minute);
        byte[] wave = ScoreWave.Of(score);
        Assert.Equal(wave, ScoreWave.Of(score));
        Assert.Equal("RIFF"u8, wave.AsSpan(0, 4));
        Assert.Equal((wave.Length - 8, wave.Length - 44), (BinaryPrimitives.ReadInt32LittleEndian(wave.AsSpan(4)), BinaryPrimitives.ReadInt32LittleEndian(wave.AsSpan(40))));
        Assert.Equal(44 + 2 * 60 * ScoreWave.SamplesPerSecond, wave.Length);
        var loud = new List<int>(); // milliseconds with a sample far from zero
        for (int i = 0; i < 60 * ScoreWave.SamplesPerSecond; i++)
            if (Math.Abs((int)BinaryPrimitives.ReadInt16LittleEndian(wave.AsSpan(44 + 2 * i))) > 2000) loud.Add((int)(i * 1000L / ScoreWave.SamplesPerSecond));
        // Three pulses of 180 ms with 180 ms between, four times as fast.
        Assert.Contains(loud, at => at is >= 30_000 and < 30_045);
        Assert.Contains(loud, at => at is >= 30_090 and < 30_135);
        Assert.Contains(loud, at => at is >= 30_180 and <= 30_225);
        Assert.All(loud, at => Assert.True(at is >= 30_000 and <= 30_045 or >= 30_090 and <= 30_135 or >= 30_180 and <= 30_225, $"sound at {at} ms"));
    }

    private static TimeSlice Slice(int from, int to) => new(SampleTime.FromSeconds(from), SampleTime.FromSeconds(to));
}

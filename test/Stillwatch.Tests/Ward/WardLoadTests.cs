using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Replay;
using Stillwatch.Signals;
using Stillwatch.Tests.Proposals;
using Stillwatch.Time;
using Stillwatch.Tuning.Map;
using Stillwatch.Tuning.Proposals;
using Stillwatch.Tuning.Ward;
using Xunit;

namespace Stillwatch.Tests.Ward;

public class WardLoadTests
{
    private static readonly RecordingStart Unknown = new RecordingStart.Unknown();

    private static ReplayedSignal Signal(AlarmCondition condition, int startSeconds, int lengthSeconds = 30) => new(
        condition, SampleTime.FromSeconds(startSeconds), SampleTime.FromSeconds(startSeconds + lengthSeconds), SignalEnding.Cleared, AlarmPriority.Medium, []);

    private static TimeSlice Hours(double from, double to) => new(new((long)(from * 3_600_000)), new((long)(to * 3_600_000)));

    private static WardRecording Night(
        string patient, int low, int technical = 0, double validHours = 12, double connectedHours = 24, RecordingStart? start = null, string name = "night") => new(
        patient, PatientCategory.Adult, name, start ?? Unknown, Hours(0, connectedHours), [Hours(0, validHours)],
        [.. Enumerable.Range(0, low).Select(i => Signal(AlarmCondition.SpO2Low, 60 * i)), .. Enumerable.Range(0, technical).Select(i => Signal(AlarmCondition.NoReading, 60 * i))]);

    [Fact]
    public void Physiological_load_is_counted_over_valid_time_and_technical_load_over_connected_time()
    {
        var ward = WardLoad.Of([Night("A", low: 6, technical: 3)]);
        Assert.Equal(12.0, ward.Physiological.SignalsPerDay!.Value, 9); // 6 in 12 h valid
        Assert.Equal(3.0, ward.Technical.SignalsPerDay!.Value, 9); // 3 in 24 h connected
        Assert.Equal(6.0, ward.Physiological.MinutesPerDay!.Value, 9); // 3 min in 12 h
        Assert.Equal((12.0, 24.0), (ward.Physiological.Per.Hours, ward.Technical.Per.Hours));
    }

    [Fact]
    public void A_patients_nights_are_pooled_before_patients_are_compared()
    {
        var ward = WardLoad.Of([Night("B", 2), Night("A", 10, name: "first"), Night("A", 0, name: "second")]);
        Assert.Equal(["A", "B"], ward.Patients.Select(p => p.Patient));
        Assert.Equal((2, 10.0, 10 / 12.0), (ward.Patients[0].Recordings, ward.Patients[0].Physiological.SignalsPerDay, ward.Patients[0].ShareOfPhysiological));
        Assert.Equal(8.0, ward.Physiological.SignalsPerDay!.Value, 9); // 12 in 36 h
        Assert.Equal(7.0, ward.MedianPatientSignalsPerDay!.Value, 9); // between 10 and 4
    }

    [Fact]
    public void The_loudest_tenth_is_rounded_up_to_a_whole_patient()
    {
        var nights = Enumerable.Range(1, 11).Select(i => Night($"P{i:00}", i)).ToList(); // 66 signals, 11 + 10 by the two loudest
        var ward = WardLoad.Of(nights);
        Assert.Equal(2, ward.TopTenth);
        Assert.Equal(21 / 66.0, ward.ShareOfTopTenth!.Value, 9);
        Assert.Equal(11 / 66.0, ward.ShareOfTop(1)!.Value, 9);
        Assert.Equal(1.0, ward.ShareOfTop(100)!.Value, 9);
    }

    [Fact]
    public void No_signals_and_no_time_are_told_apart()
    {
        var quiet = WardLoad.Of([Night("A", 0)]);
        Assert.Equal(0.0, quiet.Physiological.SignalsPerDay);
        Assert.Null(quiet.ShareOfTopTenth);
        var never = WardLoad.Of([Night("A", 0, validHours: 0)]);
        Assert.Null(never.Physiological.SignalsPerDay);
        Assert.Null(never.MedianPatientSignalsPerDay);
        Assert.Equal(0.0, never.Technical.SignalsPerDay);
        Assert.Empty(WardLoad.Of([]).Patients);
    }

    [Fact]
    public void Conditions_are_listed_physiological_first_and_never_added_across()
    {
        var ward = WardLoad.Of([Night("A", low: 2, technical: 9)]);
        Assert.Equal([(AlarmCondition.SpO2Low, 2L), (AlarmCondition.NoReading, 9L)], ward.Conditions.Select(c => (c.Condition, c.Signals)));
    }

    [Fact]
    public void The_hour_profile_books_signals_and_time_to_the_clock_hour_and_past_midnight()
    {
        // Starts 22:30 and runs for three hours; valid for the first two.
        var start = new RecordingStart.Local(new DateTime(2026, 3, 2, 22, 30, 0, DateTimeKind.Unspecified));
        var night = new WardRecording("A", PatientCategory.Adult, "night", start, Hours(0, 3), [Hours(0, 2)],
            [Signal(AlarmCondition.SpO2Low, 0), Signal(AlarmCondition.SpO2Low, 1800), Signal(AlarmCondition.NoReading, 3600 * 2), Signal(AlarmCondition.SpO2Low, 5400)]);
        var profile = HourProfile.Of([night, Night("B", 5)])!;
        Assert.Equal((1, 1), (profile.RecordingsWithClock, profile.RecordingsWithoutClock));
        string Said(int h) => $"{h:00}: {profile.Hours[h].Physiological.Signals} in {profile.Hours[h].Physiological.Per.Minutes:0} min, {profile.Hours[h].Technical.Signals} in {profile.Hours[h].Technical.Per.Minutes:0} min";
        Assert.Equal(
            ["22: 1 in 30 min, 0 in 30 min", "23: 1 in 60 min, 0 in 60 min", "00: 1 in 30 min, 1 in 60 min", "01: 0 in 0 min, 0 in 30 min"],
            new[] { 22, 23, 0, 1 }.Select(Said));
        Assert.Null(profile.Hours[12].Physiological.SignalsPerDay);
        Assert.Equal(Enumerable.Range(0, 24), profile.Hours.Select(h => h.Hour));
    }

    [Fact]
    public void Without_any_known_clock_there_is_no_hour_profile() => Assert.Null(WardLoad.Of([Night("A", 3)]).Hours);

    [Fact]
    public void The_order_of_recordings_does_not_matter()
    {
        var nights = Enumerable.Range(1, 9).Select(i => Night($"P{i % 4}", i, i % 3, start: i % 2 == 0 ? Unknown : new RecordingStart.TimeOfDay(new TimeOnly(i, 0)), name: $"n{i}")).ToList();
        static string Json(WardLoad load) => System.Text.Json.JsonSerializer.Serialize(load);
        Assert.Equal(Json(WardLoad.Of(nights)), Json(WardLoad.Of([.. Enumerable.Reverse(nights)])));
    }

    [Fact]
    public void A_recording_is_run_through_the_engine_with_its_own_denominators()
    {
        var recording = new InventedNight().Rest(600).Fall(84, 40).Rest(600).NoNumbers(100).Rest(600).Build();
        var settings = CategoryPresets.Adult.ToSettings();
        var night = WardRecording.Of("A", PatientCategory.Adult, recording, settings)!;
        var run = Replayer.Run(recording, settings);
        Assert.Equal(run.PhysiologicalLoad, WardLoad.Of([night]).Physiological);
        Assert.Equal(run.TechnicalLoad, WardLoad.Of([night]).Technical);
        Assert.Equal((1, 1), (run.PhysiologicalLoad.Signals, run.TechnicalLoad.Signals));
        Assert.Equal(2, night.Valid.Count);
        Assert.Null(WardRecording.Of("A", PatientCategory.Adult, recording with { Channels = [] }, settings));
    }

    [Fact]
    public void Maps_add_up_over_like_recordings_and_unlike_ones_stand_apart()
    {
        var request = new MapRequest(LimitSide.Low, new MapGrid([85_000_000, 90_000_000], [Duration.Zero, Duration.FromSeconds(20)], [Area.Zero]), 0, null, ConditioningSettings.Default);
        TuningRecording Fall(string name, OxygenStatus oxygen = OxygenStatus.OnAir) => new InventedNight().Rest(60).Fall(84, 30).Rest(60).Fall(88, 10).Rest(60).Tuning(name, oxygen: oxygen);
        var maps = WardMaps.Draw(
            [
                new("B", PatientCategory.Adult, [Fall("b1"), Fall("b2", OxygenStatus.OnOxygen)]),
                new("A", PatientCategory.Adult, [Fall("a1"), Fall("a2")]),
            ], request);
        Assert.Equal(["a1 a2 b1", "b2"], maps.Select(m => string.Join(' ', m.Recordings)));
        Assert.Equal([2, 1], maps.Select(m => m.Patients));
        Assert.Equal((3L, 6L, 3L), (maps[0].Sum.ByDelay.Signals[0, 0], maps[0].Sum.ByDelay.Signals[1, 0], maps[0].Sum.ByDelay.Signals[1, 1]));
        Assert.Equal(OxygenStatus.OnOxygen, maps[1].Group.Oxygen);
    }
}

using Stillwatch.Reports.Model;
using Stillwatch.Reports.Tests.Samples;
using Stillwatch.Reports.Wording;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Reports.Tests.Page;

/// <summary>What a shift summary says of a patient by itself, from the recording alone.</summary>
public class ShiftWordsTests
{
    private static readonly RecordingSection Night = InventedPages.Night.Recordings[0];

    [Fact]
    public void What_happened_names_the_must_catch_events_with_their_times_and_the_signals_of_the_settings_in_force()
    {
        var said = ShiftWords.Happened(Of(Night));
        var clock = new Clock(Night.Recording.Start);
        Assert.StartsWith($"{Words.Count(Night.MustCatch.Count, "must-catch event")}, the lowest ", said[0]);
        Assert.All(Night.MustCatch.Take(8), m => Assert.Contains(clock.At(m.Event.Onset), said[0], StringComparison.Ordinal));
        Assert.StartsWith("The settings in force would have given ", said[1]);
        Assert.Equal("noted by hand", said[^1]);
        Assert.DoesNotContain(ShiftWords.Happened(Of(Night with { PresentSignals = null })), s => s.Contains("in force", StringComparison.Ordinal));
    }

    [Fact]
    public void More_events_than_anybody_reads_are_counted()
    {
        var many = Night with { MustCatch = [.. Enumerable.Repeat(Night.MustCatch[0], 11)] };
        Assert.EndsWith(" and 3 more.", ShiftWords.Happened(Of(many))[0]);
    }

    [Fact]
    public void An_event_that_the_settings_in_force_missed_is_to_watch_in_a_sentence_and_in_a_few_words()
    {
        var missed = Of(Night with { MustCatch = [.. Night.MustCatch.Select((m, i) => m with { Present = new CatchAnswer(i == 0 ? CatchVerdict.Missed : CatchVerdict.InTime, null) })] });
        Assert.Contains("1\u00a0must-catch event would not have been signalled under the settings in force.", ShiftWords.Watch(missed));
        Assert.Contains("1 must-catch not signalled.", ShiftWords.WatchBriefly(missed));
        Assert.DoesNotContain(ShiftWords.Watch(Of(Night with { MustCatch = [] })), s => s.Contains("signalled", StringComparison.Ordinal));
    }

    [Fact]
    public void Nothing_recorded_says_nothing_but_what_was_noted()
    {
        var patient = new ShiftPatient { Patient = "P1", About = "adult", Happened = ["noted by hand"], Watch = ["by eye"] };
        Assert.Equal(["noted by hand"], ShiftWords.Happened(patient));
        Assert.Equal(["by eye"], ShiftWords.Watch(patient));
        Assert.Equal(["by eye"], ShiftWords.WatchBriefly(patient));
        Assert.Null(ShiftWords.Burden(patient));
    }

    private static ShiftPatient Of(RecordingSection recording) => new() { Patient = "P1", About = "adult", Recording = recording, Happened = ["noted by hand"] };
}

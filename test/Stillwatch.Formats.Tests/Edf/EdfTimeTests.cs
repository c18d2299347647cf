using Stillwatch.Formats.Edf;
using Stillwatch.Formats.Tests.Csv;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Edf;

/// <summary>
/// When the data records were. A continuous file (EDF+C) goes on from its first record; a discontinuous one (EDF+D) says of each record
/// when it begins, and between records there are no rows. EDF+ specification at edfplus.info/specs, 2.2.4.
/// </summary>
public class EdfTimeTests
{
    // Records of 2 s with an SpO2 value a second: 97 96, 95 94, 97 96 …
    [Theory]
    [InlineData("+0 +2 +4", "0 1 2 3 4 5", "97 96 95 94 97 96", "")] // without a gap after all
    [InlineData("+0 +2 +10", "0 1 2 3 10 11", "97 96 95 94 97 96", "record.gaps")]
    [InlineData("+0.25 +2.25 +10.5", "0 1 2 3 10.25 11.25", "97 96 95 94 97 96", "record.gaps")]
    [InlineData("+0 +2.001 +4", "0 1 2 3 4 5", "97 96 95 94 97 96", "")] // nearer than a millisecond is no gap
    [InlineData("+0 +2.1 +4.2", "0 1 2.1 3.1 4.2 5.2", "97 96 95 94 97 96", "record.gaps")]
    [InlineData("+0 +4 +2", "0 1 2 3", "97 96 97 96", "record.order")] // as few as possible are left out; of two the one that the later ones can follow
    [InlineData("+0 +1 +4", "0 1 4 5", "97 96 97 96", "record.gaps record.order")] // the second lies over the first
    [InlineData("+0 +99999 +2 +4", "0 1 2 3 4 5", "97 96 97 96 95 94", "record.order")] // one wrong time does not cost the rest
    [InlineData("+7 +0 +2 +4", "0 1 2 3 4 5", "95 94 97 96 95 94", "record.order")]
    [InlineData("+0 x +4", "0 1 4 5", "97 96 97 96", "notes.malformed record.gaps record.no-time")]
    [InlineData("+0 +2 +2", "0 1 2 3", "97 96 95 94", "record.order")] // of two at one time the first in the file
    [InlineData("+5 +7", "0 1 2 3", "97 96 95 94", "notes.first-time")]
    [InlineData("-1 +1", "0 1 2 3", "97 96 95 94", "notes.first-time")]
    public void A_discontinuous_file_has_rows_where_its_records_say(string onsets, string seconds, string values, string codes)
    {
        var result = Discontinuous(onsets.Split(' ')).Read();
        var recording = result.Recording!;
        Assert.Equal((codes, values, seconds), (result.Codes(), recording.Values(ChannelKind.SpO2), recording.Seconds()));
        Assert.Equal(1000, recording.Channels[0].Times.Period.Milliseconds);
        Assert.True(recording.Channels[0].Times.IsPeriodDeclared);
    }

    [Fact]
    public void Records_without_a_gap_make_an_even_axis_whatever_the_file_calls_itself()
    {
        Assert.True(Discontinuous(["+0", "+2", "+4"]).Read().Recording!.Channels[0].Times.IsEven);
        Assert.False(Discontinuous(["+0", "+2", "+5"]).Read().Recording!.Channels[0].Times.IsEven);
    }

    [Fact]
    public void What_is_left_out_of_a_discontinuous_file_is_counted_in_records()
    {
        var result = Discontinuous(["+0", "+4", "+4.5", "+2", "+3", "+6", "+8"]).Read();
        Assert.Equal((3, "0 1 2 3 6 7 8 9"), (result.Count(EdfIssueCodes.RecordOrder), result.Recording!.Seconds()));
    }

    [Fact]
    public void A_gap_leaves_no_row_in_channels_of_any_rate_and_channels_of_one_rate_share_their_times()
    {
        var file = Discontinuous(["+0", "+10"]) with
        {
            RecordSeconds = "1",
            Signals =
            [
                EdfTestSignal.Notes(12, r => r == 0 ? "+0" : "+10"), EdfTestSignal.SpO2, EdfTestSignal.Pleth with { SamplesPerRecord = 300 },
                EdfTestSignal.Pleth with { Label = "Pleth 2", SamplesPerRecord = 300 }, EdfTestSignal.Pleth with { Label = "fast", SamplesPerRecord = 3000 },
            ],
        };
        var channels = file.Read().Recording!.Channels;
        var pleth = channels.Single(c => c.Label == "Pleth").Times;
        Assert.Equal([997, 10_000, 10_003], Enumerable.Range(299, 3).Select(i => pleth.TimeAt(i).Milliseconds));
        Assert.Equal(3, pleth.Period.Milliseconds);
        Assert.Same(pleth, channels.Single(c => c.Label == "Pleth 2").Times);
        var fast = channels.Single(c => c.Label == "fast").Times;
        Assert.Equal([1000, 10_000, 10_000, 10_001], new[] { 2999, 3000, 3001, 3002 }.Select(i => fast.TimeAt(i).Milliseconds));
        Assert.Equal(6000, fast.Count);
    }

    [Fact]
    public void A_rate_of_no_whole_milliseconds_does_not_drift_over_a_night()
    {
        var file = new EdfFile { Records = 3600, RecordSeconds = "1", Signals = [EdfTestSignal.SpO2, EdfTestSignal.Pleth with { SamplesPerRecord = 3 }] };
        var times = file.Read().Recording!.Channels.Single(c => c.Kind == ChannelKind.Pleth).Times;
        Assert.Equal(SampleRate.Of(3, 1000), times.Rate);
        Assert.Equal(3_599_667, times.Last.Milliseconds);
    }

    [Theory]
    [InlineData("+0 +2 +4", "")]
    [InlineData("+0.5 +2.5 +4.5", "")]
    [InlineData("+0 +2.5 +4", "record.drift")]
    [InlineData("+0 +9 +11", "record.drift")]
    [InlineData("+0 +2.0009 +4", "")]
    [InlineData("x +2 +4", "notes.malformed notes.no-time")]
    public void A_continuous_file_goes_on_and_records_that_say_otherwise_are_listed(string onsets, string codes)
    {
        var result = (Discontinuous(onsets.Split(' ')) with { Reserved = "EDF+C" }).Read();
        Assert.Equal((codes, "0 1 2 3 4 5", "97 96 95 94 97 96"), (result.Codes(), result.Recording!.Seconds(), result.Recording!.Values(ChannelKind.SpO2)));
    }

    [Fact]
    public void The_recording_starts_a_part_of_a_second_later_where_the_first_record_says_so()
    {
        var result = (Discontinuous(["+0.1234567"]) with { Reserved = "EDF+C" }).Read();
        Assert.Equal(new RecordingStart.Local(new DateTime(2026, 11, 24, 22, 0, 0).AddTicks(1_234_567)), result.Recording!.Start);
        var ofDay = (Discontinuous(["+0.5"]) with { Reserved = "EDF+C", Recording = "Startdate X X X X", StartTime = "23.59.59" }).Read();
        Assert.Equal(new RecordingStart.TimeOfDay(new TimeOnly(23, 59, 59, 500)), ofDay.Recording!.Start);
    }

    // The record's own annotation says when it begins only as the very first bytes of its signal; bytes 20 and 0 are written | and _.
    [Theory]
    [InlineData("+2||_", 0, "97 96 95 94")]
    [InlineData("+2|late|_+2||_", 1, "97 96")]
    [InlineData("oops_+2||_", 1, "97 96")]
    [InlineData("_+2||_", 1, "97 96")]
    [InlineData("", 1, "97 96")]
    public void A_time_keeping_list_that_does_not_stand_first_keeps_no_time(string second, int recordsWithoutTime, string values)
    {
        byte[] Bytes(string text) => System.Text.Encoding.ASCII.GetBytes(text.Replace('|', '\x14').Replace('_', '\0'));
        var file = Discontinuous(["+0", "+2"]) with
        {
            Signals = [EdfTestSignal.SpO2 with { SamplesPerRecord = 2 }, new EdfTestSignal("EDF Annotations", 20) { Tals = r => Bytes(r == 0 ? "+0||_" : second) }],
        };
        var result = file.Read();
        Assert.Equal((recordsWithoutTime, values), (result.Count(EdfIssueCodes.RecordNoTime), result.Recording!.Values(ChannelKind.SpO2)));
    }

    private static EdfFile Discontinuous(string[] onsets) => new()
    {
        Reserved = "EDF+D",
        Records = onsets.Length,
        RecordSeconds = "2",
        Signals = [EdfTestSignal.SpO2 with { SamplesPerRecord = 2 }, EdfTestSignal.Notes(15, r => onsets[r])],
    };
}
